"""Notes and rests of a line before they have a pitch: when they begin, and how long they last."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from game.lines.rhythms import EIGHTH, HALF, QUARTER, Rhythm, ticks_of
from game.music.meter import Meter

# How often a note over two beats and more gives its last beat to a rest, and a note over an odd eighth that eighth.
_BREATHES, _CUT = 0.2, 0.3
# How often a note off the beat sounds on over the beat, where the level has that.
_HELD_ON = 0.75
_SELDOM = 0.5
_TRIPLET_ENDS = (4, 8)


@dataclass(frozen=True, slots=True)
class Spot:
    """A note or rest in the line: onset from the first full bar and length, in ticks; `triplet` its place (0 to 2) in a
    beat of three, None outside one. In a pickup bar onsets are below 0.
    """

    onset: int
    ticks: int
    rest: bool = False
    triplet: int | None = None


def spots_of(onsets: Sequence[int], end: int, rhythm: Rhythm, meter: Meter, rng: Random, *, short: float) -> list[Spot]:
    """A spot for each onset, and rests where notes do not last to the next. `short` is how often a note before two
    beats of silence and more is no longer than its own beat; where that is seldom, the last note of all fills its bar,
    else it is held for some of it.
    """
    spots: list[Spot] = []
    if onsets[0] > 0:
        spots += _rests(0, onsets[0])
    for onset, after in pairwise((*onsets, end)):
        fills = onset == onsets[-1] and short < _SELDOM and onset % QUARTER == 0
        stop = after if fills or rhythm.held_over else _untied(onset, after, meter)
        if fills:
            ticks = after - onset
        elif onset == onsets[-1] and short >= _SELDOM:
            ticks = _last_length(onset, stop, rhythm, rng)
        else:
            ticks = _length(onset, stop, rhythm, rng, short, compound=meter.compound)
        spots.append(Spot(onset, ticks, triplet=_place_in_triplet(onset)))
        spots += _rests(onset + ticks, after)
    return with_whole_triplets(spots)


def _untied(onset: int, after: int, meter: Meter) -> int:
    """Where a note stops at the latest that is not to be written with a tie: at the bar line, and at the middle of a
    bar where it would go over it by an odd eighth.
    """
    length = ticks_of(meter)
    stop = min(after, onset - onset % length + length)
    middle = onset - onset % length + HALF
    odd = length == 2 * HALF and not meter.compound and stop % QUARTER and onset < middle < stop
    return middle if odd else stop


def _rests(start: int, stop: int) -> list[Spot]:
    """Silence between two onsets. Before a triplet whose first third is silent there is a rest to its beat."""
    cut = stop - stop % QUARTER if stop % QUARTER == _TRIPLET_ENDS[0] else stop
    to_beat = -(-start // QUARTER) * QUARTER if start % EIGHTH else start
    return [
        *([Spot(start, min(to_beat, cut) - start, rest=True, triplet=2)] if start % EIGHTH and start < cut else []),
        *([Spot(to_beat, cut - to_beat, rest=True)] if to_beat < cut else []),
        *([Spot(cut, stop - cut, rest=True, triplet=0)] if start < stop and cut < stop else []),
    ]


def with_whole_triplets(spots: Sequence[Spot]) -> list[Spot]:
    """The spots with the first third of each triplet marked, which lies on the beat as any other note."""
    followed = {spot.onset - _TRIPLET_ENDS[0] for spot in spots if spot.triplet == 1}
    return [
        Spot(spot.onset, spot.ticks, spot.rest, 0) if spot.onset in followed and spot.triplet is None else spot
        for spot in spots
    ]


def _place_in_triplet(onset: int) -> int | None:
    return _TRIPLET_ENDS.index(onset % QUARTER) + 1 if onset % QUARTER in _TRIPLET_ENDS else None


def _length(onset: int, after: int, rhythm: Rhythm, rng: Random, short: float, *, compound: bool) -> int:
    gap = after - onset
    if compound:
        return _compound_length(onset, gap, rhythm, rng, short)
    if onset % QUARTER in _TRIPLET_ENDS:
        return min(gap, _TRIPLET_ENDS[0])
    if after % QUARTER == _TRIPLET_ENDS[0]:
        gap -= _TRIPLET_ENDS[0] if gap > _TRIPLET_ENDS[0] else 0
    if onset % QUARTER:
        held = rhythm.held_over and gap > EIGHTH and rng.random() < _HELD_ON
        return EIGHTH if not held else min(gap, HALF if rng.random() < short else QUARTER + EIGHTH)
    return _length_on_beat(gap, rhythm, rng, short)


def _length_on_beat(gap: int, rhythm: Rhythm, rng: Random, short: float) -> int:
    if gap >= HALF:
        if rng.random() < short:
            return EIGHTH if rhythm.has_rests and rng.random() < short / 2 else QUARTER
        whole = gap - gap % QUARTER
        return whole - QUARTER if whole > QUARTER and rng.random() < _BREATHES else whole
    if gap % QUARTER and gap > QUARTER and rhythm.has_rests and rng.random() < _CUT:
        return gap - gap % QUARTER
    return gap


def _last_length(onset: int, after: int, rhythm: Rhythm, rng: Random) -> int:
    """How long a line over changes ends: on the beat for a beat or more, off it held over where the level has that."""
    gap = after - onset
    if onset % QUARTER in _TRIPLET_ENDS:
        return min(gap, _TRIPLET_ENDS[0])
    if onset % QUARTER:
        return min(gap, QUARTER + EIGHTH) if rhythm.held_over and rng.random() < _HELD_ON else EIGHTH
    return min(gap, QUARTER if rng.random() < _CUT else HALF)


def _compound_length(onset: int, gap: int, rhythm: Rhythm, rng: Random, short: float) -> int:
    beat = QUARTER + EIGHTH
    if onset % beat:
        left = beat - onset % beat
        return min(gap, left) if not rhythm.held_over else gap
    if gap > beat and rng.random() < short:
        return beat
    return gap - gap % beat if gap > beat and not rhythm.held_over else gap
