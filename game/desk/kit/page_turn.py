"""A page that is turned: its lower right corner sweeps across and uncovers the picture of what comes next.

The picture of before is cut along the fold, which runs from one edge of the window to another, in strips a few pixels
high: what sticks out of the fold that way lies under the back of the page. Shades are made once for a window and look.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, Point, blend
from game.desk.kit.corner import CORNER_SIZE
from game.desk.kit.ground import paper_rect, under_colour
from game.desk.theme import NIGHT, Colour, Theme

PAGE_TURN_S: Final = 0.25
"""So long a page turns."""

_STRIP_PX: Final = 3
# Where the corner is at the end, in widths and heights of the window from where the paper's corner would lie: by then
# the fold is beyond the upper left corner of the window.
_END_X, _END_Y = 2.15, 0.5
_SHADOW, _BEND = 46.0, 34.0
_SHADOW_ALPHA, _SHADE_ALPHA = 80, 46
_SHADOW_COLOUR: Final = (45, 34, 16)
_WHITE: Final = (255, 255, 255)


_Strip = tuple[pygame.Surface, Point, tuple[float, float, float, float]]


@dataclass(frozen=True, slots=True)
class _Fold:
    """The line along which the page is folded: through a point, square to the way the corner has come. In pixels."""

    at: Point
    normal: Point

    def x_at(self, y: float) -> float:
        """Where it crosses a row of pixels."""
        return self.at[0] - (y - self.at[1]) * self.normal[1] / self.normal[0]

    def beyond(self, point: Point) -> float:
        """How far a point lies on the side of the corner that was turned up; negative on the other."""
        return (point[0] - self.at[0]) * self.normal[0] + (point[1] - self.at[1]) * self.normal[1]

    def mirrored(self, point: Point) -> Point:
        """The place on the other side of the fold where a point comes to lie."""
        twice = 2 * self.beyond(point)
        return point[0] - twice * self.normal[0], point[1] - twice * self.normal[1]


def draw_page_turn(canvas: Canvas, before: pygame.Surface, top: float, share: float) -> None:
    """Lay what is left of the picture of before onto that of now. `top` is where its paper began, in units; `share`
    goes from 0, the corner turned up as it always is, to 1, when nothing of it is left.
    """
    if share >= 1:
        return
    paper = paper_rect(canvas.sheet, top)
    fold = _fold(canvas, paper, share)
    flap = _flap(paper, fold)
    shade, bend, shadow = _shades(canvas.sheet.size[0], canvas.theme, canvas.px(_SHADOW), canvas.px(_BEND))
    old: list[_Strip] = []
    backs: list[_Strip] = []
    shadows: list[_Strip] = []
    for y in range(0, canvas.sheet.size[1], _STRIP_PX):
        cut = min(fold.x_at(y), fold.x_at(y + _STRIP_PX))
        if cut > 0:
            old.append((before, (0, y), (0, y, cut + 1, _STRIP_PX)))
        if paper.top <= y < paper.bottom and cut < paper.right:
            shadows.append((shadow, (cut, y), (0, 0, shadow.get_width(), _STRIP_PX)))
        span = _span(flap, y + _STRIP_PX / 2)
        if span is not None:
            left, right = span
            backs.append((shade, (left - shade.get_width(), y), (0, 0, shade.get_width(), _STRIP_PX)))
            width = right - left + 1
            backs.append((bend, (left, y), (bend.get_width() - width, 0, width, _STRIP_PX)))
    for pieces in (old, shadows, backs):
        canvas.surface.blits(pieces, doreturn=False)
    if flap:
        edge = blend(under_colour(canvas.theme), canvas.theme.pencil, 0.4)
        pygame.draw.aalines(canvas.surface, edge, closed=True, points=flap)


def _fold(canvas: Canvas, paper: pygame.Rect, share: float) -> _Fold:
    """The fold half-way between where the paper's corner would lie and where it is."""
    width, height = canvas.sheet.size
    size, ease = canvas.px(CORNER_SIZE), share * share * (3 - 2 * share)
    way = size + ease * (_END_X * width - size), size + ease * (_END_Y * height - size)
    length = (way[0] ** 2 + way[1] ** 2) ** 0.5
    middle = paper.right - way[0] / 2, paper.bottom - way[1] / 2
    return _Fold(middle, (way[0] / length, way[1] / length))


def _flap(paper: pygame.Rect, fold: _Fold) -> list[Point]:
    """The outline of what is turned up, as it lies on the other side of the fold; empty for nothing."""
    corners = [paper.topleft, paper.topright, paper.bottomright, paper.bottomleft]
    outline: list[Point] = []
    for here, there in pairwise([*corners, corners[0]]):
        from_here, from_there = fold.beyond(here), fold.beyond(there)
        if from_here >= 0:
            outline.append(fold.mirrored(here))
        if from_here * from_there < 0:
            along = from_here / (from_here - from_there)
            outline.append((here[0] + (there[0] - here[0]) * along, here[1] + (there[1] - here[1]) * along))
    return outline


def _span(outline: list[Point], y: float) -> tuple[int, int] | None:
    """From where to where a row of pixels crosses an outline without dents, None where it does not."""
    crossed = []
    for (x0, y0), (x1, y1) in pairwise([*outline, *outline[:1]]):
        if (y0 <= y) != (y1 <= y):
            crossed.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
    return (round(min(crossed)), round(max(crossed))) if len(crossed) > 1 else None


@lru_cache(maxsize=2)
def _shades(
    width: int, theme: Theme, shadow_px: int, bend_px: int
) -> tuple[pygame.Surface, pygame.Surface, pygame.Surface]:
    """A strip each of the shade left of the turned page, of its back up to the fold, and of the shadow right of it."""
    back = pygame.Surface((2 * width, _STRIP_PX))
    colours = _back_colours(theme)
    for x in range(back.get_width()):
        from_fold = back.get_width() - 1 - x
        back.fill(_between(colours, from_fold / bend_px), (x, 0, 1, _STRIP_PX))
    return _fading(shadow_px // 2, _SHADE_ALPHA, darkest_left=False), back, _fading(shadow_px, _SHADOW_ALPHA)


def _back_colours(theme: Theme) -> tuple[Colour, ...]:
    """The back of a page from the fold on, at every width of the bend: it curves, and so catches the light."""
    back = under_colour(theme)
    dark, lit = blend(back, theme.edge, 0.55), blend(back, theme.paper, 0.9)
    if theme is not NIGHT:
        lit = blend(lit, _WHITE, 0.4)
    return dark, lit, blend(back, lit, 0.5), back


def _between(colours: tuple[Colour, ...], at: float) -> Colour:
    step = min(int(at), len(colours) - 1)
    return blend(colours[step], colours[min(step + 1, len(colours) - 1)], min(1.0, at - step))


def _fading(width: int, alpha: int, *, darkest_left: bool = True) -> pygame.Surface:
    strip = pygame.Surface((max(1, width), _STRIP_PX), pygame.SRCALPHA)
    for x in range(strip.get_width()):
        light = (x if darkest_left else strip.get_width() - x) / strip.get_width()
        strip.fill((*_SHADOW_COLOUR, round(alpha * (1 - light) ** 2)), (x, 0, 1, _STRIP_PX))
    return strip
