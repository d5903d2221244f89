"""The way of the hand through a phrase, drawn on the neck: as it was played a stroke of the pencil from ring to ring,
the easy way dashes in red from dot to dot, from where it parts.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from game.desk.kit.by_pencil import draw_pencil, draw_ring
from game.desk.kit.canvas import Align, Canvas, Point, Style, blend
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.inked import draw_dot
from game.desk.theme import Colour
from game.desk.typography import Face
from game.neck.movement_costs import Fingered
from game.neck.neck_map import NeckMap, roman
from game.practice.hand_in_take import HandInPhrase
from game.text.catalogue import say

HAND_HEIGHTS: Final = 116.0, 174.0
"""What the neck takes, with numerals and legend above and inlays below, in units: at least, and at most."""

_ABOVE, _BELOW = 34.0, 24.0
_FEWEST_FRETS = 7
# So far above the middle of a place the way that was played runs, and below it the easy one, in units: both may go
# through it, and along a string.
_APART, _APART_SHARE = 4.0, 0.22
_STROKE, _DASHES = 3.4, (9.0, 6.0)
_RING, _START, _DOT = 13.0, 21.0, 9.0
_TEXT_SIZE, _NUMERAL_SIZE = 20.0, 22.0
_SAMPLE = 44.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOnNeck:
    """The hand in a phrase and the neck it went over, with a capo at that fret."""

    hand: HandInPhrase
    neck_map: NeckMap
    left_handed: bool = False
    capo: int = 0

    def neck_in(self, left: float, top: float, width: float, height: float) -> InkNeck:
        """The part of the neck that both ways go over, in a room in units. The frets under the hand at the beginning
        are shaded.
        """
        steps = (*self.hand.played.steps, *self.hand.easy.steps)
        frets = [step.place.fret for step in steps]
        fingered = [fret for fret in frets if fret] or [1]
        first = 0 if 0 in frets else max(0, min(fingered) - 2)
        last = min(max(self.neck_map.frets, *frets), max(max(fingered) + 1, first + _FEWEST_FRETS))
        return InkNeck(
            left=left,
            top=top + _ABOVE,
            width=width,
            height=height - _ABOVE - _BELOW,
            first=min(first, max(0, last - _FEWEST_FRETS)),
            last=last,
            position=self.hand.played.steps[0].position,
            strings=len(self.neck_map.tuning.open_strings),
            left_handed=self.left_handed,
            capo=self.capo,
        )

    def draw(self, canvas: Canvas, left: float, top: float, width: float, height: float) -> None:
        """Neck and ways; above it which line is which, and the positions the hand was in."""
        neck = self.neck_in(left, top, width, height)
        draw_ink_neck(canvas, neck, (), numbered=False)
        if not self.hand.is_easy:
            _draw_easy(canvas, neck, self._parted)
        _draw_played(canvas, neck, self.hand.played.steps)
        legend_left = self._draw_legend(canvas, neck)
        self._draw_positions(canvas, neck, legend_left)

    @property
    def _parted(self) -> Sequence[Fingered]:
        """The easy way from the last place that both have in common."""
        return self.hand.easy.steps[max(0, (self.hand.left_at or 0) - 1) :]

    def _draw_positions(self, canvas: Canvas, neck: InkNeck, legend_left: float) -> None:
        """The Roman numeral of each position where its first finger lies; none under the legend, or on another one."""
        ends: list[tuple[float, float]] = [(legend_left, neck.left + neck.width)]
        style = Style(Face.TEXT, _NUMERAL_SIZE, canvas.theme.faded)
        for position in dict.fromkeys(step.position for step in self.hand.played.steps if step.finger):
            x = neck.middle_of(1, min(max(position, neck.first + 1), neck.last))[0]
            half = canvas.width_of(roman(position), style) / 2 + 4
            if any(x + half > start and x - half < end for start, end in ends):
                continue
            ends.append((x - half, x + half))
            canvas.write(roman(position), (x, neck.top - 9), style, Align.CENTRE)

    def _draw_legend(self, canvas: Canvas, neck: InkNeck) -> float:
        """Which line is which, at the right end above the neck; returns where it begins."""
        style, x = Style(Face.ITALIC, _TEXT_SIZE, canvas.theme.faded), neck.left + neck.width
        played, easy = (_draw_stroke, "hand.legend_played"), (_draw_dashes, "hand.legend_easy")
        for draw_line, key in (played,) if self.hand.is_easy else (easy, played):
            words = canvas.write(say(key), (x, neck.top - 10), style, Align.RIGHT)
            x = words.left / canvas.sheet.unit - 8
            draw_line(canvas, [(x - _SAMPLE, neck.top - 16), (x, neck.top - 16)])
            x -= _SAMPLE + 24
        return x


def _draw_stroke(canvas: Canvas, points: Sequence[Point]) -> None:
    draw_pencil(canvas, points, _STROKE, _graphite(canvas), len(points))


def _draw_dashes(canvas: Canvas, points: Sequence[Point]) -> None:
    draw_pencil(canvas, points, _STROKE, canvas.theme.accent, len(points), dashes=_DASHES)


def _graphite(canvas: Canvas) -> Colour:
    """Darker than the strings it lies over."""
    return blend(canvas.theme.paper, canvas.theme.ink, 0.9)


def _draw_played(canvas: Canvas, neck: InkNeck, steps: Sequence[Fingered]) -> None:
    """A ring round each place, the first one larger, and a stroke from one to the next."""
    way, points = _way(neck, steps, -_apart(neck)), _points(neck, steps, -_apart(neck))
    if len(way) > 1:
        _draw_stroke(canvas, way)
    for seed, at in enumerate(dict.fromkeys(points)):
        draw_ring(canvas, at, _START if at == points[0] else min(_RING, neck.dot), 2.4, _graphite(canvas), seed)


def _draw_easy(canvas: Canvas, neck: InkNeck, steps: Sequence[Fingered]) -> None:
    """A dot at each place, and dashes from one to the next."""
    way = _way(neck, steps, _apart(neck))
    if len(way) > 1:
        _draw_dashes(canvas, way)
    for at in dict.fromkeys(_points(neck, steps, _apart(neck))):
        draw_dot(canvas, at, _DOT, canvas.theme.accent)


def _apart(neck: InkNeck) -> float:
    return min(_APART, _APART_SHARE * neck.height / neck.strings)


def _way(neck: InkNeck, steps: Sequence[Fingered], below: float) -> list[Point]:
    """Where the hand goes: an open string moves none."""
    return _points(neck, [step for step in steps if step.finger], below)


def _points(neck: InkNeck, steps: Sequence[Fingered], below: float) -> list[Point]:
    """The places one after the other, one that is played again only once; `below` their middles by so much."""
    middles = (neck.middle_of(step.place.string, step.place.fret) for step in steps)
    points = [(x, y + below) for x, y in middles]
    return [*points[:1], *(at for before, at in pairwise(points) if at != before)]
