"""Where the player ran ahead of the click or fell behind it, little by little: a fact of its own, no fault of notes."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from statistics import median

from game.judging.answers import NO_ANSWER
from game.judging.read_notes import ReadNotes
from game.judging.tolerance import TimedGrid, tolerance_ms
from game.judging.verdicts import EventKind

_LEAST_NOTES = 4
_PLACE_NOTES = 4
"""So many notes at the start of a stretch tell where the player stood then."""

_MOST_OF_A_KIND = 2
"""Who sways to and fro for a whole take is told twice that they left the click each way, and not bar by bar."""


def pace_events(
    times_s: Sequence[float], reading: ReadNotes, grid: TimedGrid
) -> Iterator[tuple[EventKind, int, float]]:
    """An event where the player's own clock left the place it had at the start of its stretch by more than the
    tolerance of the beat, for four notes at least; again only after it came back, and twice each way at most. A stretch
    ends where the player stopped or went elsewhere.
    """
    leans_s = reading.leans_s
    if not leans_s or max(leans_s) - min(leans_s) <= _tolerance_s(min(grid.beats_s)):
        return
    for stretch in _stretches(times_s, reading):
        yield from _of_stretch(stretch, times_s, reading, grid)


def _stretches(times_s: Sequence[float], reading: ReadNotes) -> Iterator[list[int]]:
    """The written notes that were answered, cut where the player stopped or went elsewhere.

    Who went back has read some notes already: there the next stretch begins with the first note that is read after it.
    """
    first = reading.answers.first
    answered = [index for index, at in enumerate(first) if at != NO_ANSWER]
    cuts = sorted(
        next((on for on in answered if times_s[first[on]] >= at_s), len(first)) if kind is EventKind.RESTART else index
        for kind, index, at_s in reading.events
        if kind is not EventKind.REPAIR
    )
    start = 0
    for cut in cuts:
        end = bisect_left(answered, cut, start)
        yield answered[start:end]
        start = end
    yield answered[start:]


def _tolerance_s(beat_s: float) -> float:
    return tolerance_ms(beat_s * 1000, None) / 1000


def _of_stretch(
    stretch: Sequence[int], times_s: Sequence[float], reading: ReadNotes, grid: TimedGrid
) -> Iterator[tuple[EventKind, int, float]]:
    if len(stretch) <= _LEAST_NOTES:
        return
    leans_s, beats_s = reading.leans_s, grid.beats_s
    place_s = median(leans_s[index] for index in stretch[:_PLACE_NOTES])
    beat_s = tolerance_s = 0.0
    side = told = running = 0
    left = {1: _MOST_OF_A_KIND, -1: _MOST_OF_A_KIND}
    for at, index in enumerate(stretch):
        if beats_s[index] != beat_s:
            beat_s, tolerance_s = beats_s[index], _tolerance_s(beats_s[index])
        off_s = leans_s[index] - place_s
        now = (off_s > tolerance_s) - (off_s < -tolerance_s)
        running = running + 1 if now == side else 1
        side = now
        if told and -tolerance_s / 2 < off_s < tolerance_s / 2:
            told = 0
        if side not in (0, told) and running == _LEAST_NOTES:
            told, start = side, stretch[at - _LEAST_NOTES + 1]
            left[side] -= 1
            if left[side] < 0:
                continue
            kind = EventKind.FELL_BEHIND if side > 0 else EventKind.RAN_AHEAD
            yield kind, start, times_s[reading.answers.first[start]]
