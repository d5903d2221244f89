"""Notes that were heard and could not be told: which written notes they keep from being judged.

A take in time is judged by what was heard surely, as if nothing else had come. Only then what was heard unsurely is
laid over it: a written note that nothing sure answers, with something unsure where it was due, is `unsure`. So an
unsure note makes no verdict right and none wrong, and what is left over of them is dropped. Where no time counts the
order alone tells what an unsure note may have answered (`alignment`).
"""

from collections.abc import Collection, Iterable, Sequence

from game.instrument.decoding.played import PlayedNote
from game.judging.answers import NO_ANSWER
from game.judging.tolerance import TimedGrid


def told_apart(played: Iterable[PlayedNote]) -> tuple[list[PlayedNote], list[PlayedNote]]:
    """The notes that were heard surely, and those that were not, each in their order."""
    sure: list[PlayedNote] = []
    unsure: list[PlayedNote] = []
    for note in played:
        (sure if note.sure else unsure).append(note)
    return sure, unsure


def is_near(grid: TimedGrid, index: int, off_s: float) -> bool:
    """Whether something `off_s` after written note `index` was due can stand for it and for no other: within the
    tolerance, or nearer than half-way to its neighbour.
    """
    if -grid.early_s[index] <= off_s <= grid.late_s[index]:
        return True
    neighbour = index + (1 if off_s > 0 else -1)
    if not 0 <= neighbour < len(grid.onsets_s):
        return abs(off_s) <= grid.beats_s[index] / 2
    return abs(off_s) <= abs(grid.onsets_s[neighbour] - grid.onsets_s[index]) / 2


def unsure_by_time(
    first: Sequence[int],
    times_s: Sequence[float],
    unsure: Sequence[PlayedNote],
    grid: TimedGrid,
    dues_s: Sequence[float],
) -> dict[int, tuple[PlayedNote, ...]]:
    """What was heard unsurely for written notes that nothing sure answers, by their index; `unsure` in order of time.

    `first[i]` is the sure note, at `times_s`, that answers written note i, or `NO_ANSWER`; `dues_s` are when notes were
    due by the player's own clock. Between two notes that were answered, as many unsure ones as written ones stand for
    all of them, whenever they came.
    """
    found: dict[int, tuple[PlayedNote, ...]] = {}
    for start, end in _unanswered(first):
        after_s = times_s[first[start - 1]] if start else float("-inf")
        before_s = times_s[first[end]] if end < len(first) else float("inf")
        between = [note for note in unsure if after_s < note.started_s < before_s]
        if start and end < len(first) and len(between) >= end - start:
            found |= _in_order(range(start, end), between)
            continue
        for index in range(start, end):
            near = tuple(note for note in between if is_near(grid, index, note.started_s - dues_s[index]))
            if near:
                found[index] = near
    return found


def _unanswered(first: Sequence[int]) -> Iterable[tuple[int, int]]:
    """The runs of written notes without an answer: from, up to (not in)."""
    start = 0
    for index, at in enumerate([*first, 0]):
        if at != NO_ANSWER:
            if index > start:
                yield start, index
            start = index + 1


def _in_order(indices: range, unsure: Sequence[PlayedNote]) -> dict[int, tuple[PlayedNote, ...]]:
    """Each note gets one of at least as many, the last one those that are left over."""
    last = indices[-1]
    each: dict[int, tuple[PlayedNote, ...]] = {index: (note,) for index, note in zip(indices, unsure, strict=False)}
    each[last] += tuple(unsure[len(indices) :])
    return each


def came_to(unread_from: int, unsure: Collection[int]) -> int:
    """The first written note that was not read, where the take was heard up to `unread_from`: unsure notes lead on from
    there, one after another. A noise after the end, farther on, was no reading.
    """
    while unread_from in unsure:
        unread_from += 1
    return unread_from
