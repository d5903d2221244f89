"""Small pictures of engraved pages, made one at a time between two frames and kept."""

from dataclasses import replace
from functools import lru_cache

import pygame

from game.desk.kit.book_sheet import sheet_colour
from game.desk.kit.canvas import blend
from game.desk.theme import Colour
from game.engraving.engraver import EngravedFace
from game.engraving.layout import lay_out_page
from game.engraving.raster import SurfaceStore
from game.engraving.shapes import Engraving, TextKind
from game.engraving.still_page import StillPage
from game.music.passage import Passage
from game.music.score import NO_MARKS, Bar, Reading
from game.practice_log.queries.figure_records import PassageFigures
from game.screens.context import ScreenContext
from game.screens.progress.located_page import LocatedPage, located_page
from game.screens.reading.music_view import ENGRAVED_FACES
from game.screens.reading.page_lanes import print_of
from game.tunes.library.library import shelf

PICTURE = (238.0, 116.0)
"""Width and height of the room for a picture, in units."""

_SPACES = (7.0, 6.0, 5.2, 4.5)
"""Staff spaces in units: the largest at which all bars have room; of longer pages the first lines are shown."""

_LEAST_SPACE_PX = 4
_BETWEEN = 1.0
"""From the print of one line to that of the next, in staff spaces."""

_KEPT_BYTES = 24_000_000
_PENCIL = 0.75


class PagePictures:
    """The pictures that were made so far, and where their bars stand."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._shelf = shelf()
        self._located: dict[str, LocatedPage | None] = {}
        self._pictures = SurfaceStore(_KEPT_BYTES)

    def located(self, figures: PassageFigures) -> LocatedPage | None:
        """Where its bars stand."""
        if figures.key not in self._located:
            self._located[figures.key] = located_page(self._context, figures, self._shelf)
        return self._located[figures.key]

    def known(self, figures: PassageFigures) -> LocatedPage | None:
        """The same, as far as it was looked for."""
        return self._located.get(figures.key)

    def is_gone(self, figures: PassageFigures) -> bool:
        """Whether it was looked for in vain."""
        return figures.key in self._located and self._located[figures.key] is None

    def of(self, figures: PassageFigures, *, signed: bool) -> pygame.Surface | None:
        """Its picture; None as long as it was not made, or where there is none."""
        return self._pictures.get(self._key(figures, signed=signed))

    def make_one(self, wanted: list[tuple[PassageFigures, bool]]) -> bool:
        """Make the first picture that is missing of those wanted; returns whether there was one to make."""
        for figures, signed in wanted:
            key = self._key(figures, signed=signed)
            if self._pictures.get(key) is None and self._located.get(figures.key, figures) is not None:
                located = self.located(figures)
                if located is not None:
                    self._pictures.keep(key, self._drawn(located.passage, signed=signed))
                return True
        return False

    def _key(self, figures: PassageFigures, *, signed: bool) -> tuple[object, ...]:
        settings = self._context.settings
        return figures.key, signed, settings.look, settings.music_face, self._context.sheet.size

    def _drawn(self, passage: Passage, *, signed: bool) -> pygame.Surface:
        theme = self._context.theme
        paper = sheet_colour(theme) if signed else theme.paper
        ink = theme.read if signed else blend(theme.paper, theme.pencil, _PENCIL)
        page = self._fitting(passage, paper, ink)
        lines = _lines(page, self._context.sheet.px(PICTURE[1]))
        gap = round(_BETWEEN * page.space_px)
        whole = pygame.Surface(page.size)
        page.draw(whole, whole.get_rect())
        surface = pygame.Surface((page.size[0], sum(line.height + gap for line in lines) - gap))
        surface.fill(paper)
        y = 0
        for line in lines:
            surface.blit(whole, (0, y), line)
            y += line.height + gap
        return surface

    def _fitting(self, passage: Passage, paper: Colour, ink: Colour) -> StillPage:
        sheet = self._context.sheet
        face = ENGRAVED_FACES[self._context.settings.music_face]
        for units in _SPACES:
            space_px = max(_LEAST_SPACE_PX, sheet.px(units))
            spaces = sheet.px(PICTURE[0]) / space_px
            engraving = _laid_out(_plain(passage.bars), passage.reading, spaces, face, ends=passage.ends_tune)
            page = StillPage(engraving, space_px, paper, ink, _without_words)
            if len(_lines(page, sheet.px(PICTURE[1]))) == len(page.lines):
                break
        return page


def _lines(page: StillPage, room_px: int) -> list[pygame.Rect]:
    """What is printed on each line, as many lines as have room below each other; one at least."""
    rooms: list[pygame.Rect] = []
    height = 0
    for number in range(len(page.lines)):
        line = print_of(page, number)
        height += line.height + (round(_BETWEEN * page.space_px) if rooms else 0)
        if rooms and height > room_px:
            break
        rooms.append(line)
    return rooms


def _plain(bars: tuple[Bar, ...]) -> tuple[Bar, ...]:
    """The notes alone: words would be too small to read."""
    return tuple(replace(bar, chords=(), marks=NO_MARKS) for bar in bars)


@lru_cache(maxsize=64)
def _laid_out(bars: tuple[Bar, ...], reading: Reading, spaces: float, face: EngravedFace, *, ends: bool) -> Engraving:
    return lay_out_page(bars, reading, spaces, face, final_barline=ends)


def _without_words(_kind: TextKind, _text: str, _colour: Colour, _space_px: int) -> tuple[pygame.Surface, int]:
    """Nothing in the place of any word: bar numbers would be too small to read."""
    return pygame.Surface((1, 1), pygame.SRCALPHA), 0
