"""The ladder of tempi in the margin: the lowest rung is near one's own pace, the highest the target."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_ring, draw_tick
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.inked import draw_ink
from game.desk.theme import Colour
from game.desk.typography import Face

_LEAN: Final = 7.0
_SIZE, _NOW_SIZE, _LEAST_SIZE = 25.0, 31.0, 20.0
_TO_NUMBER, _TO_TAKES, _TAKE_STEP = 14.0, 14.0, 17.0
_MOST_TAKES: Final = 3


class RungState(Enum):
    """What a rung is to the player: kept with a clean take, being climbed now, or ahead."""

    KEPT = auto()
    NOW = auto()
    AHEAD = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """A tempo in the metre's beats a minute. `takes` are the last ones at it, oldest first, True for a clean one.

    `target` marks the one to be signed; `folded` that rungs between this one and the next are not shown; `wish` one
    that was asked for by the player and so stays pencil.
    """

    tempo: int
    state: RungState
    takes: tuple[bool, ...] = ()
    target: bool = False
    folded: bool = False
    wish: bool = False


@dataclass(frozen=True, slots=True)
class LadderRoom:
    """Where a ladder stands, in units: left, top and bottom of its rails, and from rail to rail at the foot."""

    left: float
    top: float
    bottom: float
    width: float = 74.0


def draw_ladder(
    canvas: Canvas, rungs: Sequence[Rung], room: LadderRoom, *, climbing: bool = False
) -> tuple[pygame.Rect, ...]:
    """Rails, rungs from the lowest up, their numbers and the takes beside them; returns what can be clicked of each.
    While the red rung is `climbing`, pencil stands where it comes to lie.
    """
    theme, right = canvas.theme, room.left + room.width
    draw_pencil(canvas, [(room.left, room.bottom), (room.left + _LEAN, room.top)], 3.4, theme.pencil, 11)
    draw_pencil(canvas, [(right, room.bottom), (right - _LEAN, room.top)], 3.4, theme.pencil, 12)
    height = (room.bottom - room.top) / max(1, len(rungs))
    hits = []
    for number, rung in enumerate(rungs):
        _, _, y = at = _place(room, number, len(rungs))
        _draw_rung(canvas, rung, at, seed=40 + number, climbing=climbing)
        _draw_number(canvas, rung, (room.left - _TO_NUMBER, y))
        _draw_takes(canvas, rung, (right + _TO_TAKES, y))
        if rung.folded:
            # Between two figures, however close they stand.
            quiet = Style(Face.TEXT, min(_SIZE, max(_LEAST_SIZE, 0.42 * height)), theme.faded)
            canvas.write("…", (room.left - _TO_NUMBER - 2, y - height / 2 + 4), quiet, Align.RIGHT)
        hits.append(canvas.rect(room.left - 60, y - min(height, 40) / 2, room.width + 60, min(height, 40)))
    return tuple(hits)


def _place(room: LadderRoom, number: float, rungs: int) -> tuple[float, float, float]:
    """Left end, right end and height of a rung, or of a place between two."""
    share = (number + 0.55) / rungs
    return (
        room.left + _LEAN * share,
        room.left + room.width - _LEAN * share,
        room.bottom - share * (room.bottom - room.top),
    )


def draw_red_rung(canvas: Canvas, number: float, rungs: int, room: LadderRoom) -> None:
    """The red rung alone, where a rung of this number is, 0 the lowest, or between two."""
    left, right, y = _place(room, number, rungs)
    draw_pencil(canvas, [(left - 7, y + 1), (right + 8, y - 1)], 6.5, canvas.theme.accent, 30)


def _draw_rung(canvas: Canvas, rung: Rung, at: tuple[float, float, float], seed: int, *, climbing: bool) -> None:
    (left, right, y), theme = at, canvas.theme
    if rung.state is RungState.NOW and not climbing:
        draw_pencil(canvas, [(left - 7, y + 1), (right + 8, y - 1)], 6.5, theme.accent, 30)
    elif rung.state is not RungState.KEPT or rung.wish:
        draw_pencil(canvas, [(left, y), (right, y)], 2.2, theme.pencil, seed)
    else:
        draw_ink(canvas, [(left - 1, y), (right + 1, y)], 4.2, theme.read)


def _draw_number(canvas: Canvas, rung: Rung, at: tuple[float, float]) -> None:
    colour, size = _number_colour(canvas, rung), _NOW_SIZE if rung.state is RungState.NOW else _SIZE
    canvas.write(str(rung.tempo), (at[0], at[1] + 0.34 * _SIZE), Style(Face.FIGURES, size, colour), Align.RIGHT)


def _number_colour(canvas: Canvas, rung: Rung) -> Colour:
    theme = canvas.theme
    if rung.state is RungState.NOW:
        return theme.accent
    if rung.state is RungState.KEPT:
        return theme.pencil if rung.wish else theme.read
    return theme.ink if rung.target else theme.faded


def _draw_takes(canvas: Canvas, rung: Rung, at: tuple[float, float]) -> None:
    """A tick for a clean take, a ring for another; the last three."""
    x, y = at
    for number, clean in enumerate(rung.takes[-_MOST_TAKES:]):
        left = x + number * _TAKE_STEP
        if clean:
            draw_tick(canvas, (left, y + 4), 16, canvas.theme.read, 60 + number)
        else:
            draw_ring(canvas, (left + 6, y), 13, 1.8, canvas.theme.pencil, 5 + number)
