"""Where the player ran ahead of the click or fell behind it, little by little: a fact of its own, no fault of notes."""

from collections.abc import Iterator, Sequence
from statistics import median

from game.judging.answers import NO_ANSWER
from game.judging.read_notes import ReadNotes
from game.judging.tolerance import TimedGrid, tolerance_ms
from game.judging.verdicts import EventKind

_LEAST_NOTES = 4
_PLACE_NOTES = 4
"""So many notes at the start of a stretch tell where the player stood then."""


def pace_events(
    times_s: Sequence[float], reading: ReadNotes, grid: TimedGrid
) -> Iterator[tuple[EventKind, int, float]]:
    """An event where the player's own clock left the place it had at the start of its stretch by more than the
    tolerance of the beat, for four notes at least; again only after it came back. A stretch ends where the player
    stopped or went elsewhere.
    """
    first, behind_s = reading.answers.first, reading.behind_click_s
    stretch: list[int] = []
    cuts = {index for kind, index, _ in reading.events if kind is not EventKind.REPAIR}
    for index, at in enumerate(first):
        if at == NO_ANSWER:
            continue
        if stretch and (
            behind_s[index] != behind_s[stretch[-1]] or not cuts.isdisjoint(range(stretch[-1] + 1, index + 1))
        ):
            yield from _of_stretch(stretch, times_s, reading, grid)
            stretch = []
        stretch.append(index)
    yield from _of_stretch(stretch, times_s, reading, grid)


def _of_stretch(
    stretch: Sequence[int], times_s: Sequence[float], reading: ReadNotes, grid: TimedGrid
) -> Iterator[tuple[EventKind, int, float]]:
    if len(stretch) <= _LEAST_NOTES:
        return
    leans_s = reading.leans_s
    place_s = median(leans_s[index] for index in stretch[:_PLACE_NOTES])
    start, side, told = stretch[0], 0, 0
    running = 0
    for index in stretch:
        tolerance_s = tolerance_ms(grid.beats_s[index] * 1000, None) / 1000
        off_s = leans_s[index] - place_s
        now = 1 if off_s > tolerance_s else -1 if off_s < -tolerance_s else 0
        if abs(off_s) < tolerance_s / 2:
            told = 0
        if now != side:
            start, side, running = index, now, 0
        running += 1
        if side and side != told and running == _LEAST_NOTES:
            told = side
            kind = EventKind.FELL_BEHIND if side > 0 else EventKind.RAN_AHEAD
            yield kind, start, times_s[reading.answers.first[start]]
