"""Which played note answers which written note, once the player was followed, and where the click corrects that.

The player's own clock finds the answers of whoever is early or late. Between repeated notes it may then prefer one out
of its tolerance to one in it. `prefer_in_time` asks the click once more, so that hits, misses and notes too many are
those of a plain count with the same windows wherever one note alone lies in a window.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.tolerance import TimedGrid, each_in_time, in_time

NO_ANSWER = -1
"""Stands for the played note where a written note has none."""

_OFF_BIAS_S = 0.100
"""A note so far from where the player's own clock stood was not meant by it."""

_WITH_CLICK_S = 0.120
"""Who wanders farther from where they usually are is followed, and not corrected by the click."""


@dataclass(slots=True, kw_only=True)
class Answers:
    """Who answered what, while it is being worked out: changed in place.

    `first[i]` is the played note that decides written note i, or `NO_ANSWER`; `offsets_s[i]` how far it lies
    from when it was due. `later[i]` are further tries; `via[i]` the plucks an arrival came from; `repaired`
    written note to the played note that mended it; `used` all played notes that are accounted for.
    """

    first: list[int]
    offsets_s: list[float]
    used: set[int]
    later: dict[int, list[int]] = field(default_factory=dict)
    via: dict[int, list[int]] = field(default_factory=dict)
    repaired: dict[int, int] = field(default_factory=dict)


def prefer_in_time(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    answers: Answers,
    grid: TimedGrid,
    behind_click_s: Sequence[float],
    leans_s: Sequence[float],
) -> None:
    """Give a written note that has no answer in time the right note nearest to the click, where that is free to give.

    Changes `answers` in place. `behind_click_s` is how far behind the click each written note was read, `leans_s` how
    far behind that the player's own clock was. Nothing is changed for a player who wandered from the click.
    """
    if max(leans_s) - min(leans_s) > 2 * _WITH_CLICK_S:
        return
    usual_s = median(leans_s)
    if max(leans_s) - usual_s > _WITH_CLICK_S or usual_s - min(leans_s) > _WITH_CLICK_S:
        return
    times_s = [note.started_s for note in played]
    owner: dict[int, int] | None = None
    timely = each_in_time(grid, answers.offsets_s)
    for index, at in enumerate(answers.first):
        if timely[index] and at != NO_ANSWER:
            continue
        due_s = grid.onsets_s[index] + behind_click_s[index]
        first = bisect_left(times_s, due_s - grid.early_s[index])
        found = range(first, bisect_right(times_s, due_s + grid.late_s[index]))
        right = [other for other in found if played[other].sounding == expected[index].sounding]
        if not right or right == [at]:
            continue
        if owner is None:
            owner = {answer: note for note, answer in enumerate(answers.first) if answer != NO_ANSWER}
        best = min(right, key=lambda other: abs(times_s[other] - due_s))
        if _free(answers, grid, owner, best, index, usual_s if len(found) == 1 and at == NO_ANSWER else None):
            _give(answers, owner, best, index, times_s[best] - due_s)


def _free(answers: Answers, grid: TimedGrid, owner: dict[int, int], at: int, index: int, bias_s: float | None) -> bool:
    """Whether played note `at` may be given to written note `index`: it answers nothing, or, being alone in the window
    (then `bias_s` is given), only a neighbour for which it is out of time and off the bias as well.
    """
    if at not in answers.used:
        return True
    other = owner.get(at)
    if other is None or bias_s is None or abs(other - index) != 1:
        return False
    offset_s = answers.offsets_s[other]
    return not in_time(grid, other, offset_s) and abs(offset_s - bias_s) > _OFF_BIAS_S


def _give(answers: Answers, owner: dict[int, int], at: int, index: int, offset_s: float) -> None:
    """Played note `at` answers written note `index` now, and what answered it before nothing."""
    before, other = answers.first[index], owner.pop(at, None)
    if other is not None:
        answers.first[other] = NO_ANSWER
    if before != NO_ANSWER:
        answers.used.discard(before)
        owner.pop(before, None)
    answers.first[index], answers.offsets_s[index] = at, offset_s
    answers.used.add(at)
    owner[at] = index
