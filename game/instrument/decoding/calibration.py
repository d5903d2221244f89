"""How late an instrument is, found by playing along with the click on its lowest and its highest open string. Pure.

Model: offset = constant + periods x period of the pitch. Playing along measures the instrument and the player's own
bias together. The bias is the same on every string, so only the part that depends on pitch is the instrument's for
certain; the constant is taken over only when a cable, and no player, sounded the clicks (`by_cable`).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from game.instrument.decoding.delay import MOST_CONSTANT_S, MOST_PERIODS, USUAL_PERIODS, Delay, period_s

# Ours: so many plucks a string, and more while the spread is so wide that the mean would be worse than about 3 ms.
FIRST_PLUCKS, MOST_PLUCKS = 12, 24
_WIDE_S = 0.012
# Up to here a spread is a player's; beyond it the plucks do not go with the click at all.
WIDEST_SPREAD_S = 0.050
# A pluck belongs to the click it is nearest to, if it is within this share of the interval.
_NEAR_SHARE = 0.4
# Robust statistics: 1.4826 median absolute deviations are one standard deviation of a normal distribution
# (Rousseeuw & Croux 1993); beyond 3.5 of them it is an outlier (Iglewicz & Hoaglin 1993; both mem).
_MAD_TO_SPREAD, _OUTLIER = 1.4826, 3.5
_LEAST_SPREAD_S = 0.001
_LEAST_PLUCKS = 4


@dataclass(frozen=True, slots=True)
class Pluck:
    """An offset from the click, late positive, of a note of MIDI number `sounding`."""

    offset_s: float
    sounding: int


@dataclass(frozen=True, slots=True)
class DelayFit:
    """What was found. `constant_s` and `periods` are of the model, `spread_s` the standard deviation around it,
    `used` the plucks it rests on.
    """

    constant_s: float
    periods: float
    spread_s: float
    used: tuple[Pluck, ...]

    def at(self, sounding: int) -> float:
        """The offset of a MIDI number, the player's bias and all."""
        return self.constant_s + self.periods * period_s(sounding)

    @property
    def usable(self) -> bool:
        """Whether it can be an instrument: the plucks went with the click, and the delay is one a pickup has."""
        return self.spread_s <= WIDEST_SPREAD_S and -1.0 <= self.periods <= MOST_PERIODS

    def delay(self, *, by_cable: bool = False) -> Delay:
        """What is to be taken out of the times of notes: without a cable only the part that depends on pitch."""
        constant_s = max(0.0, min(MOST_CONSTANT_S, self.constant_s)) if by_cable else 0.0
        return Delay(constant_s=constant_s, periods=max(0.0, self.periods))


def offsets_of(plucks_s: Sequence[float], clicks_s: Sequence[float], sounding: int) -> tuple[Pluck, ...]:
    """Each click's pluck: the nearest that is nearer to no other click. A second pluck for a click is left out, and so
    is one that lies between clicks. Times are in seconds on one clock. Raises `ValueError` for fewer than two clicks.
    """
    if len(clicks_s) < 2:
        raise ValueError("two clicks at least make an interval")
    interval_s = median(later - earlier for earlier, later in pairwise(clicks_s))
    bias_s = _usual_phase(plucks_s, clicks_s, interval_s)
    found = []
    for click_s in clicks_s:
        near = [pluck_s - click_s for pluck_s in plucks_s if abs(pluck_s - click_s - bias_s) < _NEAR_SHARE * interval_s]
        if near:
            found.append(Pluck(min(near, key=lambda offset_s: abs(offset_s - bias_s)), sounding))
    return tuple(found)


def enough_plucks(fit_so_far: "DelayFit | None", plucks: int) -> bool:
    """Whether a string has been plucked often enough, `plucks` times so far: more are asked where they scatter."""
    if plucks < FIRST_PLUCKS or fit_so_far is None:
        return False
    return plucks >= MOST_PLUCKS or fit_so_far.spread_s <= _WIDE_S


def fit_delay(plucks: Sequence[Pluck]) -> DelayFit | None:
    """The model through plucks of one pitch or more: least squares on what is left when outliers are left out.

    None for fewer than four plucks. With one pitch only, the usual periods are taken for granted.
    """
    if len(plucks) < _LEAST_PLUCKS:
        return None
    by_pitch = {pluck.sounding for pluck in plucks}
    middles = {
        sounding: median(pluck.offset_s for pluck in plucks if pluck.sounding == sounding) for sounding in by_pitch
    }
    deviations = [abs(pluck.offset_s - middles[pluck.sounding]) for pluck in plucks]
    reach_s = _OUTLIER * max(_LEAST_SPREAD_S, _MAD_TO_SPREAD * median(deviations))
    used = tuple(pluck for pluck, deviation in zip(plucks, deviations, strict=True) if deviation <= reach_s)
    constant_s, periods = _least_squares(used)
    residuals = [pluck.offset_s - constant_s - periods * period_s(pluck.sounding) for pluck in used]
    degrees = max(1, len(used) - len(by_pitch))
    spread_s = math.sqrt(sum(residual * residual for residual in residuals) / degrees)
    return DelayFit(constant_s, periods, spread_s, used)


def _least_squares(plucks: Sequence[Pluck]) -> tuple[float, float]:
    """Constant and slope of offset over period."""
    periods_s = [period_s(pluck.sounding) for pluck in plucks]
    mean_period_s = sum(periods_s) / len(plucks)
    mean_offset_s = sum(pluck.offset_s for pluck in plucks) / len(plucks)
    squares = sum((one - mean_period_s) ** 2 for one in periods_s)
    if squares == 0:
        return mean_offset_s - USUAL_PERIODS * mean_period_s, USUAL_PERIODS
    products = sum(
        (one - mean_period_s) * (pluck.offset_s - mean_offset_s) for one, pluck in zip(periods_s, plucks, strict=True)
    )
    slope = products / squares
    return mean_offset_s - slope * mean_period_s, slope


def _usual_phase(plucks_s: Sequence[float], clicks_s: Sequence[float], interval_s: float) -> float:
    """Where in the interval most plucks lie, -half to half of it: the direction of their mean on a circle."""
    angles = [2 * math.pi * ((pluck_s - clicks_s[0]) / interval_s) for pluck_s in plucks_s]
    if not angles:
        return 0.0
    mean = math.atan2(sum(map(math.sin, angles)), sum(map(math.cos, angles)))
    return mean / (2 * math.pi) * interval_s
