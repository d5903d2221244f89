"""A judgement held against the truth of a take.

**Pitch level**: each written note is right, wrong or missed, and the first reading counts. An answer that differs from
what was done still counts as true where it is *equivalent*, for nobody who only hears the take could know better:

- over the stretch in which it differs (written notes with another answer, up to the next with the same) it explains
  the very same played notes with no more faults (wrong, missed, too many) than were made; and
- it joins no played note to a written one more than 0.6 of a beat from where the player's pulse had the note, unless
  both stand in one run of equal pitches, or the player jumped in this take.

A note that was wrong and then put right is wrong: nothing is equivalent to that.

Which of several equal notes was dropped, which of two like bars was skipped, whether a note half a gap off is wrong or
one missed and one too many: all these are of that kind. `strict` leaves the equivalence out.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from game.judging.extra_notes import leads_to
from game.judging.verdicts import COUNTS_AS_CLEAN, Judgement, NoteVerdict, Verdict
from tests.judging.players.performed import Fate, Performance

FAR_BEATS = 0.6
_TOGETHER_S = 0.04
_RIGHT = COUNTS_AS_CLEAN | {Verdict.OTHER_PLACE}


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """Counts over a take. `right` are notes rightly played, `right_lost` those of them called wrong, missed or extra;
    `faults` are notes wrongly played, missed or too many and `faults_lost` those that are told otherwise. `strict_lost`
    is the sum of both without the equivalence. `where` are the written indices that are untrue.
    """

    notes: int
    right: int
    right_lost: int
    faults: int
    faults_lost: int
    strict_lost: int
    where: tuple[int, ...]

    @property
    def lost(self) -> int:
        """All that is untrue."""
        return self.right_lost + self.faults_lost


def answers_of(performance: Performance, verdicts: Sequence[NoteVerdict]) -> list[int | None]:
    """The played note that decides each verdict."""
    places = places_of(performance)
    return [None if verdict.first is None else places[verdict.first.started_s] for verdict in verdicts]


def places_of(performance: Performance) -> dict[float, int]:
    """Where each played note stands, by its time: no two are the same."""
    return {note.started_s: at for at, note in enumerate(performance.played)}


def pitch_score(performance: Performance, judgement: Judgement) -> Score:
    """Of a whole take."""
    verdicts = judgement.verdicts
    answers = answers_of(performance, verdicts)
    stretches = _stretches(performance, answers)
    untrue, untrue_extra, strict = set[int](), set[int](), 0
    places = places_of(performance)
    too_many = {places[note.started_s] for note in judgement.extra}
    for start, stop in stretches:
        here = [index for index in range(start, stop) if not _agrees(performance, index, verdicts[index])]
        strict += len(here)
        if here and not _equivalent(performance, answers, verdicts, start, stop):
            untrue.update(here)
    covered = {index for start, stop in stretches for index in range(start, stop)}
    strict += sum(not _agrees(performance, index, verdicts[index]) for index in set(range(len(verdicts))) - covered)
    untrue |= {
        index
        for index in range(len(verdicts))
        if index not in covered and not _agrees(performance, index, verdicts[index])
    }
    swallowed, spurned = _extras(performance, judgement, answers, too_many)
    untrue_extra |= swallowed
    right = [index for index, fate in enumerate(performance.fates) if fate is Fate.RIGHT]
    lost_right = {index for index in untrue if performance.fates[index] is Fate.RIGHT}
    faults = sum(fate in (Fate.WRONG, Fate.MISSED, Fate.SKIPPED) for fate in performance.fates)
    faults += sum(meant is None for meant in performance.meant)
    return Score(
        notes=len(verdicts),
        right=len(right),
        right_lost=len(lost_right) + spurned,
        faults=faults,
        faults_lost=len(untrue) - len(lost_right) + len(untrue_extra),
        strict_lost=strict,
        where=tuple(sorted(untrue)),
    )


def _agrees(performance: Performance, index: int, verdict: NoteVerdict) -> bool:
    """Whether the word is the true one, at pitch level."""
    fate, word = performance.fates[index], verdict.verdict
    if fate is Fate.RIGHT:
        return word in _RIGHT
    if fate is Fate.WRONG:
        return word is Verdict.WRONG_PITCH
    if fate is Fate.LEFT_OUT:
        return word in (Verdict.MISSED, Verdict.UNREAD)
    # Missed at first and played when gone over again: either word is true.
    later = any(meant == index for meant in performance.meant)
    return word is Verdict.MISSED or (later and word in _RIGHT)


def _stretches(performance: Performance, answers: Sequence[int | None]) -> list[tuple[int, int]]:
    """Where the answers differ from what was meant: from the first index to the last and one."""
    differs = [answers[index] != performance.first[index] for index in range(len(answers))]
    stretches, start = [], None
    for index, other in enumerate([*differs, False]):
        if other and start is None:
            start = index
        elif not other and start is not None:
            stretches.append((start, index))
            start = None
    return _joined(performance, answers, stretches)


def _joined(
    performance: Performance, answers: Sequence[int | None], stretches: list[tuple[int, int]]
) -> list[tuple[int, int]]:
    """Stretches that share a played note are one: what one lost the other has."""
    joined: list[tuple[int, int]] = []
    for start, stop in stretches:
        if joined:
            before = joined[-1]
            mine = {answers[i] for i in range(start, stop)} | {performance.first[i] for i in range(start, stop)}
            theirs = {answers[i] for i in range(*before)} | {performance.first[i] for i in range(*before)}
            if (mine & theirs) - {None}:
                joined[-1] = (before[0], stop)
                continue
        joined.append((start, stop))
    return joined


def _equivalent(
    performance: Performance,
    answers: Sequence[int | None],
    verdicts: Sequence[NoteVerdict],
    start: int,
    stop: int,
) -> bool:
    rows = range(start, stop)
    mine = {answers[i] for i in rows} - {None}
    made = {performance.first[i] for i in rows} - {None}
    asked = [note.sounding for note in performance.material.line]
    told = sum(verdicts[i].verdict not in _RIGHT for i in rows) + len(made - mine)
    meant_none = {at for at in mine - made if performance.meant[at] is None}
    done = sum(performance.fates[i] is not Fate.RIGHT for i in rows) + len(meant_none)
    if told > done or any(i in performance.repaired and verdicts[i].verdict in _RIGHT for i in rows):
        return False
    return performance.jumps > 0 or all(_near(performance, asked, i, answers[i]) for i in rows)


def _near(performance: Performance, asked: Sequence[int], index: int, at: int | None) -> bool:
    if at is None:
        return True
    meant = performance.meant[at]
    if meant is not None and len(set(asked[min(meant, index) : max(meant, index) + 1])) == 1:
        return True
    grid = performance.material.grid
    first = performance.first[index]
    aim_s = grid.onsets_s[index] + performance.behind_s[index] if first is None else performance.played[first].started_s
    lean_s = 0.0 if first is not None else _lean_near(performance, index)
    return abs(performance.played[at].started_s - aim_s - lean_s) <= FAR_BEATS * grid.beats_s[index]


def _lean_near(performance: Performance, index: int) -> float:
    """How far off the click the player was at the nearest note that was played."""
    read = [i for i, at in enumerate(performance.first) if at is not None]
    return performance.offset_s(min(read, key=lambda i: abs(i - index))) if read else 0.0


def _extras(
    performance: Performance, judgement: Judgement, answers: Sequence[int | None], too_many: set[int]
) -> tuple[set[int], int]:
    """Notes too many that were swallowed by no written note and yet not told, and notes meant that were called too many
    without a written note being miscalled for it (those are counted there).
    """
    used = {at for at in answers if at is not None}
    places = places_of(performance)
    used |= {places[note.started_s] for verdict in judgement.verdicts for note in verdict.answers[1:]}
    silent = {
        at
        for at, meant in enumerate(performance.meant)
        if meant is None and at not in too_many and at not in used and not _belongs(performance, at)
    }
    first = {at: index for index, at in enumerate(performance.first) if at is not None}
    spurned = sum(
        at in first and performance.fates[first[at]] is Fate.RIGHT and _doubly(performance, answers[first[at]], at)
        for at in too_many
    )
    return silent, spurned


def _belongs(performance: Performance, at: int) -> bool:
    """Whether a note too many may go unmentioned: within 40 ms of another, or an ornament on the way to the next on its
    string.
    """
    note, later = performance.played[at], performance.played[at + 1 : at + 2]
    beside = (*performance.played[max(at - 1, 0) : at], *later)
    if any(abs(other.started_s - note.started_s) < _TOGETHER_S for other in beside):
        return True
    return any(leads_to(note, other) for other in later)


def _doubly(performance: Performance, answer: int | None, at: int) -> bool:
    """Whether a right note is called too many although its written note has another answer that is not its like."""
    if answer is None:
        return False
    like = performance.played[answer].sounding == performance.played[at].sounding
    return not like
