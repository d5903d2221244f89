"""Played notes that belong to another: slides, hammer-ons and bends on their way, ornaments, graces, repairs.

A pitch reached on the same string within 200 ms of the pluck is right, and in time if pluck or arrival is. An
unwritten note just before the right one on its string is an ornament. Written grace notes are optional. A
right note soon after the wrong one repairs it: the first answer decides, the repair is kept beside it.
"""

from collections.abc import Mapping, Sequence

from game.instrument.decoding.played import PlayedNote
from game.judging.answers import NO_ANSWER, Answers
from game.judging.expected import ExpectedNote
from game.judging.tolerance import TimedGrid, in_time

ARRIVAL_S = 0.200
GRACE_S = 0.400
REPAIR_S = 2.0


def assign_extra_notes(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    answers: Answers,
    grid: TimedGrid,
    behind_click_s: Sequence[float],
    leans_s: Sequence[float],
    graces: Mapping[int, Sequence[int]],
) -> None:
    """Find for every note too many whether it belongs to an answer.

    `behind_click_s` is how far behind the click each written note was read, `leans_s` how far behind that the player's
    own clock was; `graces` are sounding pitches by number of note.
    """
    owner = {at: index for index, at in enumerate(answers.first) if at != NO_ANSWER}
    extras = [at for at in range(len(played)) if at not in answers.used]
    for at in extras:
        if at not in answers.used:
            _repair(expected, played, answers, owner, at)
    for at in reversed(extras):
        if at in answers.used:
            continue
        index = owner.get(at + 1)
        if index is None or played[answers.first[index]].sounding != expected[index].sounding:
            continue
        if leads_to(played[at], played[answers.first[index]]):
            owner[at] = index
            answers.via.setdefault(index, []).append(at)
            answers.used.add(at)
        elif _is_grace(played, at, answers.first[index], graces.get(expected[index].n, ())):
            owner[at] = index
            answers.used.add(at)
        elif _was_first(played, at, index, answers, grid, leans_s[index]):
            apart_s = played[at + 1].started_s - played[at].started_s
            _put_first(answers, at, index, answers.offsets_s[index] - apart_s)
        elif index and _was_waited_for(played, at, index, answers, grid, behind_click_s, leans_s):
            _put_first(answers, at, index, played[at].started_s - grid.onsets_s[index] - behind_click_s[index - 1])


def offset_on_arrival_s(grid: TimedGrid, index: int, offset_s: float, played: PlayedNote) -> float:
    """The offset of a note that came to its pitch by a slide or a bend: the pluck's, or the arrival's where only that
    is in time.
    """
    if played.arrived_s is None or in_time(grid, index, offset_s):
        return offset_s
    arrival_s = offset_s + played.arrived_s - played.started_s
    return arrival_s if in_time(grid, index, arrival_s) else offset_s


def leads_to(pluck: PlayedNote, arrival: PlayedNote) -> bool:
    """Whether a note led to the next on the same string, at another pitch, in time."""
    if pluck.place is None or arrival.place is None or pluck.place.string != arrival.place.string:
        return False
    return pluck.sounding != arrival.sounding and arrival.started_s - pluck.started_s <= ARRIVAL_S


def _is_grace(played: Sequence[PlayedNote], at: int, main: int, pitches: Sequence[int]) -> bool:
    return played[at].sounding in pitches and played[main].started_s - played[at].started_s <= GRACE_S


def _was_first(
    played: Sequence[PlayedNote], at: int, index: int, answers: Answers, grid: TimedGrid, lean_s: float
) -> bool:
    """Whether a wrong note stood where note `index` was due and the right one came only as its correction."""
    apart_s = played[at + 1].started_s - played[at].started_s
    right_s = answers.offsets_s[index] - lean_s
    return (
        answers.first[index] == at + 1
        and played[at].sounding != played[at + 1].sounding
        and apart_s > ARRIVAL_S
        and not in_time(grid, index, answers.offsets_s[index])
        and not in_time(grid, index, right_s)
        and in_time(grid, index, right_s - apart_s)
    )


def _was_waited_for(
    played: Sequence[PlayedNote],
    at: int,
    index: int,
    answers: Answers,
    grid: TimedGrid,
    behind_click_s: Sequence[float],
    leans_s: Sequence[float],
) -> bool:
    """Whether a wrong note stood where note `index` was due, and the player stopped the beat to put it right."""
    apart_s = played[at + 1].started_s - played[at].started_s
    moved_s = behind_click_s[index] - behind_click_s[index - 1]
    before_s = played[at].started_s - grid.onsets_s[index] - behind_click_s[index - 1]
    return (
        answers.first[index] == at + 1
        and played[at].sounding != played[at + 1].sounding
        and ARRIVAL_S < apart_s <= REPAIR_S
        and moved_s > ARRIVAL_S
        and in_time(grid, index, before_s - leans_s[index - 1])
    )


def _put_first(answers: Answers, at: int, index: int, offset_s: float) -> None:
    """Played note `at`, so far off, was the answer to note `index`, and the one after it puts that right."""
    answers.later[index] = [at + 1, *answers.later.get(index, [])]
    answers.repaired[index] = at + 1
    answers.offsets_s[index] = offset_s
    answers.first[index] = at
    answers.used.add(at)


def _repair(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    answers: Answers,
    owner: dict[int, int],
    at: int,
) -> None:
    """Take a note too many for the arrival or the repair of the wrong answer before it, if it is that."""
    before = at - 1
    while before >= 0 and before not in owner and played[at].started_s - played[before].started_s <= REPAIR_S:
        before -= 1
    index = owner.get(before)
    if index is None or answers.first[index] != before or played[before].sounding == expected[index].sounding:
        return
    apart_s = played[at].started_s - played[before].started_s
    if played[at].sounding != expected[index].sounding or apart_s > REPAIR_S or index in answers.repaired:
        return
    if before == at - 1 and leads_to(played[before], played[at]):
        answers.first[index] = at
        answers.offsets_s[index] += apart_s
        answers.via[index] = [before]
    else:
        tries = range(before + 1, at + 1)
        answers.later[index] = [*answers.later.get(index, []), *tries]
        answers.repaired[index] = at
        answers.used.update(tries)
    answers.used.add(at)
