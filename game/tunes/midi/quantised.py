"""Played onsets to written ones: for each beat the grid that fits best, and whether eighths are swung. Pure.

Positions are in quarter notes, or in eighths where the metre counts eighths: one cell of the grid each. A cell is
straight (halves, quarters) or a triplet; finer grids serve only where those fit badly. The numbers are ours, made for
players who are within about a thirtieth of a quarter note (20 ms at 100 quarters a minute).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

# Usual error of a player, in cells.
SPREAD = 0.03
# Parts of a cell, and what it costs to believe in such a grid: simpler rhythms are likelier.
_GRIDS = ((1, 0.0), (2, 0.3), (4, 1.3), (3, 1.8), (6, 6.0), (8, 7.0), (12, 12.0))
_COARSE = 2
# Onsets closer than this are one chord, of the same beat of the hand.
TOGETHER = 0.07
# Off-beat eighths between these may be swung; straight ones end where those begin. Most of them later than 2.4:1 are
# no swing but dotted eighths and sixteenths.
_SWUNG, _STRAIGHT = (0.565, 0.79), (0.42, 0.545)
_LATEST = 0.705
# Of swung eighths of which there are too few to tell (ours, see `game.judging.swing`).
_USUAL_SWING = 1.6
_LEAST_SWUNG = 4
_SWUNG_SHARE = 0.8
# Farther than this from the grid on average, or with more cells in finer parts than sixteenths and triplets, nobody
# would call it the beat of the file. (Even errors of up to 20 ms at 100 are 0.017 on average.)
_FREE, _FINE_SHARE, _FINE = 0.03, 0.25, 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Who played: `spread` is their usual error in cells; `fine_cost` how much less likely than usual it is that a cell
    is divided more finely than in halves, as where cells are so short that nobody would.
    """

    spread: float = SPREAD
    fine_cost: float = 1.0


TYPICAL_HAND = Hand()


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantised:
    """`onsets` in cells, one for each given; `swing` is long:short where eighths are swung, else None.

    `free` is true when the onsets do not keep to the beats of the file at all; `misfit` is how unlikely all of it is,
    in nats.
    """

    onsets: tuple[Fraction, ...]
    swing: float | None = None
    free: bool = False
    misfit: float = 0.0


def quantise(
    onsets: Sequence[float], *, may_swing: bool = True, said_swung: bool = False, hand: Hand = TYPICAL_HAND
) -> Quantised:
    """The written onsets of `onsets`, which are in order and in cells. `may_swing` is false where a cell is an
    eighth: only quarters are divided in swung eighths. Where it is `said_swung` a few off-beats are enough to tell how.
    `hand` is whose they are.
    """
    cells = [(cell, [at - cell for at in inside]) for cell, inside in groupby(onsets, key=math.floor)]
    swing = _swing_of([parts for _, parts in cells]) if may_swing else None
    if swing is None and said_swung:
        swing = _USUAL_SWING
    written: list[Fraction] = []
    error, misfit, fine = 0.0, 0.0, 0
    for cell, parts in cells:
        straightened = _straightened(parts, swing)
        cost, division = _division(straightened, hand)
        misfit += cost
        fine += division >= _FINE
        placed = [Fraction(round(part * division), division) for part in straightened]
        error += sum(abs(float(place) - part) for place, part in zip(placed, straightened, strict=True))
        written += [cell + place for place in placed]
    free = bool(onsets) and (error > _FREE * len(onsets) or fine > _FINE_SHARE * len(cells))
    return Quantised(onsets=tuple(written), swing=swing, free=free, misfit=misfit)


def _division(parts: Sequence[float], hand: Hand) -> tuple[float, int]:
    """Into how many equal parts this cell is best divided, and how badly."""
    return min((_misfit(parts, hand, division, cost), division) for division, cost in _GRIDS)


def _misfit(parts: Sequence[float], hand: Hand, division: int, cost: float) -> float:
    placed = [round(part * division) for part in parts]
    error = sum((place / division - part) ** 2 for place, part in zip(placed, parts, strict=True))
    lost = sum(
        one == other and later - earlier > TOGETHER
        for one, other, earlier, later in zip(placed, placed[1:], parts, parts[1:], strict=False)
    )
    dear = cost if division <= _COARSE else cost * hand.fine_cost
    return error / (2 * hand.spread**2) + dear + 30 * lost


def _swing_of(cells: Sequence[Sequence[float]]) -> float | None:
    """Long:short, when most off-beat eighths come late in the same way and no triplets say otherwise."""
    off_beats = [part for parts in cells if (part := _off_beat(parts)) is not None]
    swung = [part for part in off_beats if _SWUNG[0] <= part <= _SWUNG[1]]
    straight = [part for part in off_beats if _STRAIGHT[0] <= part <= _STRAIGHT[1]]
    if len(swung) < _LEAST_SWUNG or len(swung) < _SWUNG_SHARE * (len(swung) + len(straight)):
        return None
    middle = sorted(swung)[len(swung) // 2]
    return middle / (1 - middle) if middle <= _LATEST else None


def _off_beat(parts: Sequence[float]) -> float | None:
    """The one onset inside a cell, where there is just one (beside those at its ends)."""
    inside = [part for part in parts if 0.12 < part < 0.88]
    return inside[0] if len(inside) == 1 else None


def _straightened(parts: Sequence[float], swing: float | None) -> list[float]:
    """The cell with its swung off-beat put on the half."""
    off_beat = _off_beat(parts)
    if swing is None or off_beat is None or not _STRAIGHT[0] <= off_beat <= _SWUNG[1]:
        return list(parts)
    shift = 0.5 - swing / (1 + swing)
    return [part + shift if part == off_beat else part for part in parts]
