"""How a player's pulse runs against the click: tempo curves over the music, as shares of the written time.

A curve gives for a place in the music (quarters from its start) how much longer than written a moment lasts there: 0.03
is three in a hundred slower than the click. None of them has the form of a filter that follows: they are drawn as
players are described. Arches that slow at the ends of phrases and a last ritardando in the form of a square root
(Friberg and Sundberg 1999; Todd 1992), random walks, sudden new tempi at bar lines, rushing that is pulled back.
"""

from collections.abc import Callable
from math import pi, sin
from random import Random

Curve = Callable[[float], float]
"""Share of extra time at a place in the music, in quarters."""

PulseKind = Callable[[float, Random], Curve]
"""From the length of the music, in quarters, to a curve."""


def steady(_quarters: float, _rng: Random) -> Curve:
    return lambda _at: 0.0


def drift(share: float) -> PulseKind:
    """Always so much slower than the click; negative is faster."""
    return lambda _quarters, _rng: lambda _at: share


def any_drift(most: float = 0.03) -> PulseKind:
    """A drift of 1 % up to `most`, ahead or behind."""
    return lambda _quarters, rng: drift(rng.choice((-1, 1)) * rng.uniform(min(0.01, most), most))(_quarters, rng)


def rubato(share: float = 0.08) -> PulseKind:
    """A tempo that swings about the click, a wave of two to eight bars."""

    def made(_quarters: float, rng: Random) -> Curve:
        period, phase = rng.uniform(8, 32), rng.uniform(0, 2 * pi)
        return lambda at: share * sin(2 * pi * at / period + phase)

    return made


def random_walk(share: float = 0.06) -> PulseKind:
    """A tempo that wanders from beat to beat, seldom farther than `share` off."""

    def made(quarters: float, rng: Random) -> Curve:
        rates = [rng.gauss(0, share / 2)]
        while len(rates) < quarters + 1:
            rates.append(0.9 * rates[-1] + rng.gauss(0, share / 2 * 0.436))
        return lambda at: rates[min(max(int(at), 0), len(rates) - 1)]

    return made


def arches(share: float = 0.08) -> PulseKind:
    """Phrases of four bars: a little faster in the middle, slowing in the form of a parabola at their ends."""

    def made(_quarters: float, rng: Random) -> Curve:
        phrase = rng.choice((8.0, 16.0, 16.0))

        def curve(at: float) -> float:
            within = 2 * (at % phrase) / phrase - 1
            return share * (within * within - 1 / 3)

        return curve

    return made


def final_ritardando(quarters: float, rng: Random) -> Curve:
    """The last one to two bars slow down to between half and four fifths of the tempo."""
    length, end = rng.uniform(4, 8), rng.uniform(0.5, 0.8)
    start = max(quarters - length, 0.0)

    def curve(at: float) -> float:
        if at < start:
            return 0.0
        speed = (1 + (end * end - 1) * min(1.0, (at - start) / length)) ** 0.5
        return 1 / speed - 1

    return curve


def new_tempo(share: float = 0.05) -> PulseKind:
    """Every four to eight bars, at a bar line, another tempo up to `share` off."""

    def made(quarters: float, rng: Random) -> Curve:
        rates: list[float] = []
        while len(rates) < quarters / 4 + 1:
            rates += [rng.uniform(-share, share)] * rng.randint(4, 8)
        return lambda at: rates[min(max(int(at // 4), 0), len(rates) - 1)]

    return made


def rushing(share: float = 0.06) -> PulseKind:
    """Faster and faster over some bars, then pulled back within a bar to the click, and again."""

    def made(_quarters: float, rng: Random) -> Curve:
        period = 4.0 * rng.randint(3, 6)
        gained = share / 2 * (period - 4)

        def curve(at: float) -> float:
            within = at % period
            return -share * within / (period - 4) if within < period - 4 else gained / 4

        return curve

    return made


def accelerating(most: float = 0.08) -> PulseKind:
    """Faster (or slower) from beginning to end, evenly."""

    def made(quarters: float, rng: Random) -> Curve:
        end = rng.choice((-1, 1)) * rng.uniform(most / 2, most)
        return lambda at: end * at / max(quarters, 1.0)

    return made


PULSES: dict[str, PulseKind] = {
    "steady": steady,
    "drift 1-3 %": any_drift(),
    "drift +3 %": drift(0.03),
    "drift -3 %": drift(-0.03),
    "rubato 8 %": rubato(),
    "walk 6 %": random_walk(),
    "arches 8 %": arches(),
    "last bars slow": final_ritardando,
    "new tempi 5 %": new_tempo(),
    "rushing": rushing(),
    "accelerating": accelerating(),
}
