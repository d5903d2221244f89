"""The moving staff: one endless line of music under a clef, key and metre that stay at the left edge."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import pygame

from game.engraving.raster import Colour, Grid, Letterer, line_px, snapped_top, tinted, white_mask
from game.engraving.shapes import STAFF_HEIGHT_SPACES, Engraving, Opening, bounding_box, boxes_of
from game.engraving.sprites import SpriteSheet, sprites_of
from game.music.written import HeadId

NO_COLOURS: Mapping[HeadId, Colour] = MappingProxyType({})
# The music fades into the paper over this width, beside the clef and at the right edge, in staff spaces.
_FADE_SPACES = 2.2
_AFTER_OPENING_SPACES = 0.4
# Room for the widest chord symbol that began left of the edge, in staff spaces.
_TEXT_SPACES = 14
# Sprites rasterised ahead of the right edge in one frame: each costs about a quarter of a millisecond.
_AHEAD_A_FRAME = 2


@dataclass(frozen=True, slots=True)
class StaffView:
    """Where the staff is seen: a clipping `area`, the screen's y of the top staff line, and how far it has
    moved.

    With `scroll_px` 0 the staff begins at the left of the area; it may be negative, and then the music comes
    in later.
    """

    area: pygame.Rect
    top_line_y: int
    scroll_px: int


class Staff:
    """Draws an engraving of one line (`lay_out_line`) and tells where things are.

    Coordinates without a view are pixels from the left end of the staff and from its top line, downwards.
    """

    def __init__(self, engraving: Engraving, space_px: int, paper: Colour, ink: Colour, letterer: Letterer) -> None:
        self._engraving = engraving
        self._system = engraving.systems[0]
        self._sprites = sprites_of(self._system, opening=False)
        self._letterer = letterer
        self.recolour(paper, ink)
        self.resize(space_px)

    def resize(self, space_px: int) -> None:
        """Set the pixels to a staff space; nothing is engraved again."""
        self.space_px = space_px
        self._grid = Grid(space_px, self._system.left, snapped_top(self._system.top_line, space_px))
        self._sheet = SpriteSheet(self._sprites, self._grid)
        self._openings: dict[Opening, tuple[pygame.Surface, pygame.Rect]] = {}
        self._fades: dict[tuple[int, bool], pygame.Surface] = {}
        extent = self._grid.covering(self._system.extent)
        self._above_px, self._below_px = -extent.top, extent.bottom
        self._texts = sorted(self._system.texts, key=lambda text: text.x)
        self._opening_px = round(
            (max(opening.width for opening in self._engraving.openings) + _AFTER_OPENING_SPACES) * space_px
        )

    def recolour(self, paper: Colour, ink: Colour) -> None:
        """Change the theme."""
        self._paper, self._ink = paper, ink
        self._openings, self._fades = {}, {}

    @property
    def width_px(self) -> int:
        """Length of the whole staff."""
        return round((self._system.right - self._system.left) * self.space_px)

    @property
    def opening_px(self) -> int:
        """Width of the part that stays at the left edge, the widest of the tune's signatures."""
        return self._opening_px

    @property
    def above_px(self) -> int:
        """Pixels needed above the top line, texts included."""
        return self._above_px

    @property
    def below_px(self) -> int:
        """Pixels needed from the top line down."""
        return self._below_px

    @property
    def held_bytes(self) -> int:
        """Memory of the kept surfaces."""
        return self._sheet.held_bytes

    def rect_of(self, head: HeadId) -> pygame.Rect:
        """The notehead alone. Raises `KeyError` for a notehead that is not there."""
        return self._grid.covering(self._system.head_boxes[head])

    def group_rect_of(self, head: HeadId) -> pygame.Rect:
        """The notehead with stem, flag, accidental and dots."""
        return self._grid.covering(self._system.box_of(head))

    def print_rects(self) -> Iterator[pygame.Rect]:
        """All that is printed, each sign and text by itself; the five staff lines left out."""
        for box in boxes_of(self._system):
            yield self._grid.covering(box)
        for text in self._texts:
            image, ascent = self._letterer(text.kind, text.text, self._ink, self.space_px)
            x = self._grid.x_px(text.x) - (image.get_width() if text.ends_at_x else 0)
            yield image.get_rect(topleft=(round(x), round(self._grid.y_px(text.baseline)) - ascent))

    def x_at(self, onset_quarters: float) -> float:
        """Where a moment of the music lies, between the notes in proportion; before and after at the mean
        pace.
        """
        positions = self._engraving.positions
        first, last = positions[0], positions[-1]
        pace = (last[1] - first[1]) / max(last[0] - first[0], 1e-9)
        if onset_quarters <= first[0]:
            x = first[1] + (onset_quarters - first[0]) * pace
        elif onset_quarters >= last[0]:
            x = last[1] + (onset_quarters - last[0]) * pace
        else:
            place = bisect_right(positions, onset_quarters, key=lambda position: position[0])
            (onset0, x0), (onset1, x1) = positions[place - 1], positions[place]
            x = x0 + (x1 - x0) * (onset_quarters - onset0) / (onset1 - onset0)
        return self._grid.x_px(x)

    def step_y(self, staff_step: int) -> float:
        """The middle of a line or space, ledger lines included, `staff_step` as `Pitch.staff_step` counts
        it.
        """
        return self._grid.y_px(self._system.step_y(staff_step))

    @property
    def bottom_line_y(self) -> float:
        """The middle of the lowest line of the staff."""
        return self._grid.y_px(self._system.bottom_line)

    def on_screen(self, rect: pygame.Rect, view: StaffView) -> pygame.Rect:
        """A place on the staff as a place on the screen."""
        return rect.move(view.area.left - view.scroll_px, view.top_line_y)

    def draw(self, surface: pygame.Surface, view: StaffView, colours: Mapping[HeadId, Colour] = NO_COLOURS) -> None:
        """Draw the staff into the area of the view, on paper; `colours` are of the notes that are not
        plain ink.
        """
        clip = surface.get_clip()
        surface.set_clip(view.area.clip(clip))
        surface.fill(self._paper, view.area)
        left, right = view.scroll_px, view.scroll_px + view.area.width
        self._draw_lines(surface, view, view.area.left, view.area.right)
        visible = self._sheet.between(left, right)
        dx, dy = view.area.left - view.scroll_px, view.top_line_y
        surface.blits(
            [(sprite, (rect.x + dx, rect.y + dy)) for sprite, rect in self._sheet.drawn(visible, colours, self._ink)],
            doreturn=False,
        )
        self._draw_texts(surface, view, self._draw_edges(surface, view))
        surface.set_clip(clip)
        self._sheet.prepare(self._sheet.between(right, right + view.area.width // 2), self._ink, _AHEAD_A_FRAME)

    def _draw_lines(self, surface: pygame.Surface, view: StaffView, left: int, right: int) -> None:
        """The five lines between two columns of the screen, ending with the staff."""
        right = min(right, view.area.left + self.width_px - view.scroll_px)
        thick = line_px(self.space_px)
        for line in range(int(STAFF_HEIGHT_SPACES) + 1):
            top = view.top_line_y + line * self.space_px - thick // 2
            surface.fill(self._ink, (left, top, max(0, right - left), thick))

    def _draw_texts(self, surface: pygame.Surface, view: StaffView, covered_px: int) -> None:
        """Chord symbols and words, each whole or not at all: no half of one is to be read between clef and edge."""
        left = self._system.left + view.scroll_px / self.space_px
        right = left + view.area.width / self.space_px
        first = bisect_left(self._texts, left - _TEXT_SPACES, key=lambda text: text.x)
        last = bisect_right(self._texts, right + _TEXT_SPACES, key=lambda text: text.x)
        for text in self._texts[first:last]:
            x = self._grid.x_px(text.x) - view.scroll_px
            image, ascent = self._letterer(text.kind, text.text, self._ink, self.space_px)
            x -= image.get_width() if text.ends_at_x else 0
            if view.scroll_px > 0 and round(x) < covered_px:
                continue
            if round(x) + image.get_width() > max(view.area.width, covered_px + image.get_width()):
                continue
            y = view.top_line_y + self._grid.y_px(text.baseline) - ascent
            surface.blit(image, (view.area.left + round(x), round(y)))

    def _draw_edges(self, surface: pygame.Surface, view: StaffView) -> int:
        """Paper over the music at the left, fading out, with clef, key and metre on it; a fade at the
        right. Returns how wide the paper at the left is.
        """
        area, fade_px = view.area, round(_FADE_SPACES * self.space_px)
        opening = self._opening_at(view.scroll_px)
        covered_px = round((opening.width + _AFTER_OPENING_SPACES) * self.space_px)
        surface.fill(self._paper, (area.left, area.top, covered_px, area.height))
        if view.scroll_px > 0:
            surface.blit(self._fade(area.height, to_right=False), (area.left + covered_px, area.top))
        self._draw_lines(surface, view, area.left, area.left + covered_px + fade_px)
        surface.blit(self._fade(area.height, to_right=True), (area.right - fade_px, area.top))
        self._draw_lines(surface, view, area.right - fade_px, area.right)
        image, rect = self._opening_image(opening)
        surface.blit(image, (area.left + rect.x, view.top_line_y + rect.y))
        return covered_px

    def _fade(self, height: int, *, to_right: bool) -> pygame.Surface:
        """A veil of paper, clear at one side and opaque at the other."""
        found = self._fades.get((height, to_right))
        if found is None:
            width = round(_FADE_SPACES * self.space_px)
            found = pygame.Surface((width, height), pygame.SRCALPHA)
            for x in range(width):
                alpha = round(255 * (x + 0.5) / width)
                found.fill((*self._paper, alpha if to_right else 255 - alpha), (x, 0, 1, height))
            self._fades[height, to_right] = found
        return found

    def _opening_at(self, scroll_px: int) -> Opening:
        """The signature in force for the first music seen beside it."""
        edge = scroll_px + self._opening_px
        passed = [opening for opening in self._engraving.openings if self._grid.x_px(opening.from_x) <= edge]
        return passed[-1] if passed else self._engraving.openings[0]

    def _opening_image(self, opening: Opening) -> tuple[pygame.Surface, pygame.Rect]:
        found = self._openings.get(opening)
        if found is None:
            grid = Grid(self.space_px, opening.left, snapped_top(opening.top_line, self.space_px))
            rect = grid.covering(bounding_box(shape.box for shape in opening.shapes))
            found = tinted(white_mask(opening.shapes, rect, grid), self._ink), rect
            self._openings[opening] = found
        return found
