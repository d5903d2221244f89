"""The still page: lines of about four bars, as on a chart, with the same notes to be coloured one by one."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import pygame

from game.engraving.page_stack import bands, staff_tops
from game.engraving.raster import Colour, Grid, Letterer, SurfaceStore, line_px, snapped_top
from game.engraving.shapes import STAFF_HEIGHT_SPACES, Engraving, System, boxes_of
from game.engraving.sprites import SpriteSheet, sprites_of
from game.engraving.staff import NO_COLOURS
from game.music.written import HeadId

# Lines of the page kept as pictures: some eight lines at 1080p.
_BAND_BYTES = 24_000_000


class StillPage:
    """Draws an engraving of several lines (`lay_out_page`). Coordinates are pixels from the page's top
    left corner. `below` is the room kept free below the lowest print of each line, in staff spaces: for a pencil.
    """

    def __init__(
        self,
        engraving: Engraving,
        space_px: int,
        paper: Colour,
        ink: Colour,
        letterer: Letterer,
        *,
        below: Sequence[float] = (),
    ) -> None:
        self.space_px = space_px
        self._paper, self._ink = paper, ink
        left = min(system.left for system in engraving.systems)
        rooms = below or [0.0] * len(engraving.systems)
        tops = staff_tops(engraving.systems, rooms)
        edges = [round(cut * space_px) for cut in bands(engraving.systems, tops, rooms)]
        self._lines = tuple(
            PageLine(
                system,
                Grid(space_px, left, snapped_top(system.top_line, space_px)),
                round(top * space_px),
                band,
                letterer,
            )
            for system, top, band in zip(engraving.systems, tops, pairwise(edges), strict=True)
        )
        self._line_of = {head: index for index, system in enumerate(engraving.systems) for head in system.groups}
        self._bands = SurfaceStore(_BAND_BYTES)
        self._shown: dict[int, dict[HeadId, Colour]] = {}
        right = max(system.right for system in engraving.systems)
        self.size = (round((right - left) * space_px) + 1, edges[-1])

    @property
    def lines(self) -> tuple["PageLine", ...]:
        """The lines of music, from top to bottom."""
        return self._lines

    def rect_of(self, head: HeadId) -> pygame.Rect:
        """The notehead alone. Raises `KeyError` for a notehead that is not there."""
        return self._lines[self._line_of[head]].rect_of(head)

    def group_rect_of(self, head: HeadId) -> pygame.Rect:
        """The notehead with stem, flag, accidental and dots."""
        return self._lines[self._line_of[head]].group_rect_of(head)

    def line_of(self, head: HeadId) -> int:
        """Which line of the page a notehead stands on, from 0."""
        return self._line_of[head]

    def step_y(self, line: int, staff_step: int) -> float:
        """The middle of a line or space of one staff, ledger lines included."""
        return self._lines[line].step_y(staff_step)

    def bottom_line_y(self, line: int) -> float:
        """The middle of the lowest line of one staff."""
        return self._lines[line].bottom_line_y

    def draw(
        self,
        surface: pygame.Surface,
        area: pygame.Rect,
        colours: Mapping[HeadId, Colour] = NO_COLOURS,
        scroll_y_px: int = 0,
    ) -> None:
        """Draw what of the page falls into `area` once it is moved up by `scroll_y_px`."""
        clip = surface.get_clip()
        surface.set_clip(area.clip(clip))
        for index, line in enumerate(self._lines):
            y = area.top + line.band[0] - scroll_y_px
            if y < area.bottom and y + line.band[1] - line.band[0] > area.top:
                surface.blit(self._band(index, colours), (area.left, y))
        surface.set_clip(clip)

    def _band(self, index: int, colours: Mapping[HeadId, Colour]) -> pygame.Surface:
        """One line as an opaque picture, with only those notes drawn again whose colour is new."""
        line = self._lines[index]
        wanted = {head: colour for head, colour in colours.items() if self._line_of.get(head) == index}
        band = self._bands.get(index)
        if band is None:
            size = (self.size[0], line.band[1] - line.band[0])
            band = self._bands.keep(index, pygame.Surface(size))
            line.draw(band, band.get_rect(), wanted, self._paper, self._ink)
        elif wanted != self._shown[index]:
            changed = {head for head, _ in wanted.items() ^ self._shown[index].items()}
            for rect in line.touching(frozenset(changed)):
                line.draw(band, rect, wanted, self._paper, self._ink)
        self._shown[index] = wanted
        return band


class PageLine:
    """One line of a still page. `band` are the rows of the page it owns, from and to, `top_line_y` the row of its top
    staff line; the grid counts rows from there, as the moving staff does.
    """

    def __init__(
        self,
        system: System,
        grid: Grid,
        top_line_y: int,
        band: tuple[int, int],
        letterer: Letterer,
    ) -> None:
        self.band, self.top_line_y = band, top_line_y
        self.bars = tuple(system.bars)
        self._system, self._grid, self._letterer = system, grid, letterer
        self._space_px = grid.space_px
        self._sheet = SpriteSheet(sprites_of(system, opening=True), self._grid)

    def rect_of(self, head: HeadId) -> pygame.Rect:
        """The notehead alone, on the page."""
        return self._grid.covering(self._system.head_boxes[head]).move(0, self.top_line_y)

    def group_rect_of(self, head: HeadId) -> pygame.Rect:
        """The whole note, on the page."""
        return self._grid.covering(self._system.box_of(head)).move(0, self.top_line_y)

    def step_y(self, staff_step: int) -> float:
        """The page's y of a line or space."""
        return self._grid.y_px(self._system.step_y(staff_step)) + self.top_line_y

    @property
    def bottom_line_y(self) -> float:
        """The page's y of the lowest line of the staff."""
        return self._grid.y_px(self._system.bottom_line) + self.top_line_y

    def bar_span(self, bar: int) -> tuple[int, int]:
        """From which x to which x a bar of this line reaches. Raises `ValueError` for a bar that is
        elsewhere.
        """
        place = self.bars.index(bar)
        start = self._system.bar_ends[place - 1] if place else self._system.left
        return round(self._grid.x_px(start)), round(self._grid.x_px(self._system.bar_ends[place]))

    def print_rects(self) -> Iterator[pygame.Rect]:
        """All that is printed on the line, each sign and text by itself, on the page; the five staff lines left out."""
        for box in boxes_of(self._system):
            yield self._grid.covering(box).move(0, self.top_line_y)
        for image, (x, y) in self._lettering((0, 0, 0)):
            yield image.get_rect(topleft=(x, y + self.band[0]))

    def touching(self, heads: frozenset[HeadId]) -> list[pygame.Rect]:
        """Places in the band of what changes colour with any of the noteheads."""
        return [rect.move(0, self._down_px) for rect in self._sheet.touching(heads)]

    def draw(
        self,
        band: pygame.Surface,
        rect: pygame.Rect,
        colours: Mapping[HeadId, Colour],
        paper: Colour,
        ink: Colour,
    ) -> None:
        """Draw afresh what of the line falls into `rect` of its band."""
        band.set_clip(rect)
        band.fill(paper, rect)
        thick = line_px(self._space_px)
        left, right = (round(self._grid.x_px(x)) for x in (self._system.left, self._system.right))
        for line in range(int(STAFF_HEIGHT_SPACES) + 1):
            y = self._down_px + line * self._space_px - thick // 2
            band.fill(ink, (left, y, right - left, thick))
        sprites = self._sheet.drawn(self._sheet.between(rect.left, rect.right), colours, ink)
        band.blits([(sprite, (place.x, place.y + self._down_px)) for sprite, place in sprites], doreturn=False)
        self._letter(band, ink)
        band.set_clip(None)

    @property
    def _down_px(self) -> int:
        """Rows from the top of the band to the top staff line."""
        return self.top_line_y - self.band[0]

    def _letter(self, band: pygame.Surface, ink: Colour) -> None:
        band.blits(list(self._lettering(ink)), doreturn=False)

    def _lettering(self, ink: Colour) -> Iterator[tuple[pygame.Surface, tuple[int, int]]]:
        """The texts, with their places in the band."""
        for text in self._system.texts:
            image, ascent = self._letterer(text.kind, text.text, ink, self._space_px)
            x = self._grid.x_px(text.x) - (image.get_width() if text.ends_at_x else 0)
            y = self._grid.y_px(text.baseline) + self._down_px - ascent
            yield image, (round(x), round(y))
