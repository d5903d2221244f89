"""Which played note answers which written note when nobody kept the clock: an edit distance with a sense of practice.

A wrong note, a note too many and a note left out cost 1 each (Levenshtein 1966). Among alignments of equal cost:
tries are put before a note that was wrong anyway rather than before one that was right, and notes after the last
answer count as unread, not as left out.

What was heard unsurely may answer any note, or none, for less than an error costs: it tells that something was played
between the notes before and after it, and little else.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import Enum, auto

_UNREAD_COST = 0.0005
_TRY_BEFORE_RIGHT_COST = 0.001
_LATER_ANSWER_COST = 1e-7
_UNSURE_COST, _UNSURE_RIGHT_COST = 0.25, 0.2
_INFINITE = float("inf")
_FIRST_BAND = 16

_Costs = tuple[float, float, float]
_NEVER: _Costs = (_INFINITE, _INFINITE, _INFINITE)


class AlignmentStep(Enum):
    """What an alignment does next: an answer uses one of each, a try a played note, left out a written one."""

    ANSWER = auto()
    TRY = auto()
    LEFT_OUT = auto()


_Arrival = tuple[AlignmentStep, int]
_START: _Arrival = (AlignmentStep.ANSWER, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """`answers[i]` are the indices of what was played for written note i, the tries first, empty when there was
    nothing; `extra` what answers no note. The first `read` written notes were read, the rest never reached.
    """

    answers: tuple[tuple[int, ...], ...]
    extra: tuple[int, ...]
    read: int


def align(written: Sequence[int], played: Sequence[int], unsure: Collection[int] = ()) -> Alignment:
    """Align two rows of sounding pitches; `unsure` are the indices of played notes that were heard unsurely.

    Time grows with their lengths and with the number of errors.
    """
    same = 0
    while same < min(len(written), len(played)) and written[same] == played[same] and same not in unsure:
        same += 1
    answers: list[tuple[int, ...]] = [(index,) for index in range(same)]
    tries: list[int] = []
    at = same
    for step in _cheapest(written[same:], played[same:], frozenset(at - same for at in unsure)):
        if step is AlignmentStep.LEFT_OUT:
            answers.append(())
        else:
            tries.append(at)
            at += 1
            if step is AlignmentStep.ANSWER:
                answers.append(tuple(tries))
                tries = []
    read = max((index + 1 for index, found in enumerate(answers) if found), default=0)
    return Alignment(answers=tuple(answers), extra=tuple(tries), read=read)


def _cheapest(written: Sequence[int], played: Sequence[int], unsure: frozenset[int]) -> list[AlignmentStep]:
    """The steps of the cheapest alignment.

    A cell off the diagonal by more than the cost of an alignment cannot be part of it (Ukkonen 1985), so a narrow band
    is filled first, and a wider one only where that was too narrow.
    """
    width = _FIRST_BAND
    step_cost = _UNSURE_COST if unsure else 1.0
    while True:
        table = _Table(written, played, unsure, width)
        if table.least <= width * step_cost or width > len(written) + len(played):
            return table.steps()
        width *= 2


class _Table:
    """The cheapest way to every pair (written used up, played used up) within a band about the diagonal.

    Each cell has three states: no try is waiting; tries wait for a note that will be answered wrong; for one that will
    be right. `_came[i]` keeps, for each cell and state, the step that led there and the state before.
    """

    def __init__(self, written: Sequence[int], played: Sequence[int], unsure: frozenset[int], width: int) -> None:
        self._written, self._played, self._unsure, self._width = written, played, unsure, width
        self._came: list[dict[int, tuple[_Arrival, _Arrival, _Arrival]]] = []
        above: dict[int, _Costs] = {}
        for i in range(len(written) + 1):
            above = self._row(i, above)
        self._last = above[len(played)]
        self.least = min(self._last)

    def _row(self, i: int, above: dict[int, _Costs]) -> dict[int, _Costs]:
        end = len(self._played)
        columns = [*range(max(0, i - self._width), min(end - 1, i + self._width) + 1), end]
        row: dict[int, _Costs] = {}
        came: dict[int, tuple[_Arrival, _Arrival, _Arrival]] = {}
        for j in columns:
            left = row.get(j - 1, _NEVER)
            row[j], came[j] = self._cell(i, j, above.get(j - 1, _NEVER), above.get(j, _NEVER), left)
        self._came.append(came)
        return row

    def _cell(
        self, i: int, j: int, diagonal: _Costs, above: _Costs, left: _Costs
    ) -> tuple[_Costs, tuple[_Arrival, _Arrival, _Arrival]]:
        if i == j == 0:
            return (0.0, _INFINITE, _INFINITE), (_START, _START, _START)
        no_try, wrong, right = diagonal
        # An answer: tries before it must have waited for one of its kind.
        same, unsure = i and j and self._written[i - 1] == self._played[j - 1], j - 1 in self._unsure
        error = 1.0
        if same or unsure:
            answer, before = (no_try, 0) if no_try <= right else (right, 2)
            if unsure:
                answer += _UNSURE_RIGHT_COST if same else _UNSURE_COST
                error = _UNSURE_COST
        else:
            answer, before = (no_try + 1, 0) if no_try <= wrong else (wrong + 1, 1)
        answer += _LATER_ANSWER_COST * j
        skip = _UNREAD_COST if j == len(self._played) else 1.0
        skipped = [cost + skip for cost in above]
        try_wrong, wrong_before = (left[0] + error, 0) if left[0] <= left[1] else (left[1] + error, 1)
        try_right, right_before = (left[0], 0) if left[0] <= left[2] else (left[2], 2)
        try_right += error + _TRY_BEFORE_RIGHT_COST
        reached = (
            (answer, (AlignmentStep.ANSWER, before))
            if answer <= skipped[0]
            else (skipped[0], (AlignmentStep.LEFT_OUT, 0)),
            (try_wrong, (AlignmentStep.TRY, wrong_before))
            if try_wrong <= skipped[1]
            else (skipped[1], (AlignmentStep.LEFT_OUT, 1)),
            (try_right, (AlignmentStep.TRY, right_before))
            if try_right <= skipped[2]
            else (skipped[2], (AlignmentStep.LEFT_OUT, 2)),
        )
        (cost0, from0), (cost1, from1), (cost2, from2) = reached
        return (cost0, cost1, cost2), (from0, from1, from2)

    def steps(self) -> list[AlignmentStep]:
        """The steps from the beginning, read back from the end."""
        i, j = len(self._written), len(self._played)
        state = self._last.index(self.least)
        steps = []
        while i or j:
            step, state = self._came[i][j][state]
            steps.append(step)
            i -= step is not AlignmentStep.TRY
            j -= step is not AlignmentStep.LEFT_OUT
        return steps[::-1]
