"""The ladder in the margin, at the same place on the page and on the sheets after a take."""

from collections.abc import Sequence

import pygame

from game.coach.marks import Mark
from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.ladder import LadderRoom, Rung, RungState, draw_ladder, draw_red_rung
from game.desk.typography import Face
from game.text.catalogue import say

TOP = 126.0
"""Of its rails, in units."""

CLIMB_S = 0.4
"""So long the red rung climbs."""

_FROM_RIGHT, _HEIGHT, _TO_PAGE = 118.0, 394.0, 89.0


def left_of_ladder(canvas: Canvas) -> float:
    """Where a page that stands beside it ends, in units."""
    return _left(canvas) - _TO_PAGE


def draw_margin_ladder(
    canvas: Canvas, rungs: Sequence[Rung], bottom: float, played_bpm: int | None = None, *, climbing: bool = False
) -> tuple[pygame.Rect, ...]:
    """Draw it down to `bottom` at most, in units, and an arrow from the rung that was played to the one of now; neither
    arrow nor red rung while that is `climbing`. Returns what can be clicked of each rung.
    """
    room = _room(canvas, bottom)
    if rungs[-1].target:
        quiet = Style(Face.ITALIC, 22, canvas.theme.faded)
        canvas.write(say(f"book.{Mark.SIGNED_OFF.value}"), (room.left + room.width / 2, TOP - 10), quiet, Align.CENTRE)
    hits = draw_ladder(canvas, rungs, room, climbing=climbing)
    if not climbing:
        _draw_arrow(canvas, rungs, hits, room.left + room.width, played_bpm)
    return hits


def draw_climbing_rung(canvas: Canvas, rungs: Sequence[Rung], bottom: float, played_bpm: int, climbed: float) -> None:
    """The red rung on its way from the one that was played to that of now, `climbed` from 0 to 1."""
    tempi, now = [rung.tempo for rung in rungs], _now(rungs)
    if now is not None and played_bpm in tempi:
        start = tempi.index(played_bpm)
        draw_red_rung(canvas, start + (now - start) * climbed, len(rungs), _room(canvas, bottom))


def rung_climbs(rungs: Sequence[Rung], played_bpm: int | None) -> bool:
    """Whether the red rung is another than the one that was played."""
    now = _now(rungs)
    return now is not None and rungs[now].tempo != played_bpm and played_bpm in [rung.tempo for rung in rungs]


def _now(rungs: Sequence[Rung]) -> int | None:
    return next((number for number, rung in enumerate(rungs) if rung.state is RungState.NOW), None)


def _room(canvas: Canvas, bottom: float) -> LadderRoom:
    return LadderRoom(_left(canvas), TOP, min(TOP + _HEIGHT, bottom))


def _left(canvas: Canvas) -> float:
    return canvas.sheet.text_area.right / canvas.sheet.unit - _FROM_RIGHT


def _draw_arrow(
    canvas: Canvas, rungs: Sequence[Rung], hits: Sequence[pygame.Rect], x: float, played_bpm: int | None
) -> None:
    """From the rung that was played to the one of now, where that is the next."""
    tempi = [rung.tempo for rung in rungs]
    now = _now(rungs)
    if now is None or played_bpm not in tempi or abs(now - tempi.index(played_bpm)) != 1:
        return
    played = tempi.index(played_bpm)
    unit, up = canvas.sheet.unit, 1 if now > played else -1
    y0, y1 = hits[played].centery / unit - 16 * up, hits[now].centery / unit + 5 * up
    bend = [(x + 32, y0), (x + 37, y0 - 8 * up), (x + 36, y0 - 15 * up), (x + 29, y1 + 8 * up), (x + 14, y1)]
    barbs = [(x + 28, y1 - 2 * up), (x + 14, y1), (x + 21, y1 + 12 * up)]
    for seed, stroke in enumerate((bend, barbs), 3):
        draw_pencil(canvas, stroke, 3, canvas.theme.accent, seed)
