"""The rhythm of a line over changes: phrases of any length that begin and end where they like, none longer than a
player's breath.
"""

from collections.abc import Sequence
from itertools import pairwise
from random import Random

from game.lines.cell_chain import CellChain, rung
from game.lines.line_weights import Idiom
from game.lines.manners import SoloManner
from game.lines.rhythms import EIGHTH, HALF, QUARTER, Rhythm, cells_of_bar, ticks_of
from game.music.meter import Meter

# Onsets of a pickup with the first rhythm level that has it, and how likely each is (trade).
_PICKUPS = {(): (1, 5.0), (-12,): (1, 0.6), (-12, -6): (2, 1.2), (-6,): (4, 0.8), (-18, -12, -6): (4, 1.4)}
# How much likelier half a bar of silence is than by the weights: a reader has eight bars, not three choruses.
_SILENCE = 0.45
# More ticks than these without a note are too many, but for what the last bar brings.
_LONGEST_SILENCE = 2 * HALF - EIGHTH
# How often a line without a pickup begins with a rest.
_BEGINS_LATE = 0.6
# Where the last phrase stops, in ticks of the last bar, and how likely: inside a solo seldom on a beat, but a line on a
# page of its own is to come to an end (ours).
_STOPS = {0: 1.6, 6: 1.6, 12: 1.4, 18: 2.4, 24: 2.0, 30: 1.0, 36: 0.8}
# How likely a stop off the beat is that cannot be held over it.
_STAB = 0.4
# No phrase goes on for more bars than this without a breath; the last bar may be one more.
_LONGEST_BARS = 5


def solo_onsets(bars: int, rhythm: Rhythm, meter: Meter, manner: SoloManner, rng: Random) -> list[int]:
    """The onsets of a line of so many bars in ticks, from a pickup to its last note."""
    dense = manner.dense + rung(Idiom.SOLO, rhythm, meter)
    chain = CellChain(rhythm, Idiom.SOLO, rng, dense, _SILENCE, manner.habit, manner.off)
    length = ticks_of(meter)
    onsets = list(_pickup(rhythm, rng))
    led = bool(onsets) or rng.random() >= _BEGINS_LATE
    for bar in range(bars - 1):
        start = bar * length
        for place, ticks in enumerate(_cells(meter)):
            first = bar == place == 0
            cell = chain.drawn(place, ticks, led=led and first, late=first and not led)
            if not cell and start + ticks - (onsets or [0])[-1] > _LONGEST_SILENCE:
                cell = chain.drawn(place, ticks, late=True)
            onsets += [start + onset for onset in cell]
            start += ticks
    return _accompanied(_with_breaths(onsets, length)) + _last_bar((bars - 1) * length, chain, meter, rng)


def _cells(meter: Meter) -> tuple[int, ...]:
    """Half bars; in 3/4 two beats and one."""
    cells = cells_of_bar(meter)
    return (HALF, QUARTER) if cells == (HALF + QUARTER,) else cells


def _pickup(rhythm: Rhythm, rng: Random) -> tuple[int, ...]:
    fits = {onsets: odd for onsets, (level, odd) in _PICKUPS.items() if level <= rhythm.number}
    return rng.choices(list(fits), list(fits.values()))[0]


def _with_breaths(onsets: Sequence[int], length: int) -> list[int]:
    """The onsets, with two beats left out where a phrase would go on for too long."""
    kept: list[int] = []
    begun, silent_to = onsets[0], onsets[0]
    for onset in onsets:
        if kept and onset - kept[-1] >= HALF:
            begun = onset
        if onset - begun >= _LONGEST_BARS * length:
            beat = onset - onset % QUARTER
            kept = [before for before in kept if before < beat]
            begun = silent_to = beat + HALF
        if onset >= silent_to:
            kept.append(onset)
    return kept


def _accompanied(onsets: Sequence[int]) -> list[int]:
    """The onsets, each that stands alone between silences followed by another on the next beat."""
    found = list(onsets)
    for before, onset, after in zip(onsets, onsets[1:], onsets[2:], strict=False):
        if onset - before >= HALF <= after - onset:
            found.append(onset - onset % QUARTER + QUARTER)
    return sorted(found)


def _last_bar(start: int, chain: CellChain, meter: Meter, rng: Random) -> list[int]:
    """The onsets of the last bar: to a stop early in it."""
    held = chain.rhythm.held_over
    stops = {stop: odd * (_STAB if stop % QUARTER and not held else 1.0) for stop, odd in _STOPS.items()
             if stop < ticks_of(meter) and (chain.rhythm.has_rests or stop % QUARTER == 0)}  # fmt: skip
    stop = rng.choices(list(stops), list(stops.values()))[0]
    bar: list[int] = []
    for place, ticks in enumerate(_cells(meter)):
        led = stop > 0 and place == 0
        bar += [sum(_cells(meter)[:place]) + onset for onset in chain.drawn(place, ticks, led=led)]
    beat = stop - stop % QUARTER
    before = [onset for onset in bar if onset < beat or onset == beat < stop]
    found = [*before, stop]
    # A last note that comes after a silence is no end.
    while len(found) > 1 and found[-1] - found[-2] >= HALF - EIGHTH:
        found.pop()
    return [start + onset for onset in found]


def phrases_in(onsets: Sequence[int]) -> list[range]:
    """The notes of each phrase: a new one begins after two beats and more."""
    cuts = [at for at, (before, onset) in enumerate(pairwise(onsets), start=1) if onset - before >= HALF]
    return [range(start, stop) for start, stop in pairwise((0, *cuts, len(onsets)))]
