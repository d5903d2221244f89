"""Which played note answers which written note when nobody kept the clock: an edit distance with a sense of practice.

A wrong note, a note too many and a note left out cost 1 each (Levenshtein 1966). Among alignments of equal cost:
tries are put before a note that was wrong anyway rather than before one that was right, and notes after the last
answer count as unread, not as left out.
"""

from collections.abc import Sequence
from dataclasses import dataclass

_UNREAD_COST = 0.0005
_TRY_BEFORE_RIGHT_COST = 0.001
_LATER_ANSWER_COST = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """`answers[i]` are the indices of what was played for written note i, the tries first, empty when there was
    nothing; `extra` what answers no note. The first `read` written notes were read, the rest never reached.
    """

    answers: tuple[tuple[int, ...], ...]
    extra: tuple[int, ...]
    read: int


def align(written: Sequence[int], played: Sequence[int]) -> Alignment:
    """Align two rows of sounding pitches. Quadratic in their lengths after equal beginnings are set aside."""
    same = 0
    while same < min(len(written), len(played)) and written[same] == played[same]:
        same += 1
    steps = _cheapest(written[same:], played[same:])
    answers: list[tuple[int, ...]] = [(index,) for index in range(same)]
    tries: list[int] = []
    at = same
    for step in steps:
        if step == "left out":
            answers.append(())
        else:
            tries.append(at)
            at += 1
            if step == "answer":
                answers.append(tuple(tries))
                tries = []
    read = max((index + 1 for index, found in enumerate(answers) if found), default=0)
    return Alignment(answers=tuple(answers), extra=tuple(tries), read=read)


def _cheapest(written: Sequence[int], played: Sequence[int]) -> list[str]:
    """The steps of the cheapest alignment: "answer" uses one of each, "try" a played, "left out" a written note."""
    rows, columns = len(written) + 1, len(played) + 1
    # cost[i][j][t]: i written and j played are used up, t tells whether a try is waiting for its note.
    cost = [[[float("inf")] * 2 for _ in range(columns)] for _ in range(rows)]
    came = [[[("", 0)] * 2 for _ in range(columns)] for _ in range(rows)]
    cost[0][0][0] = 0.0

    def relax(i: int, j: int, waiting: int, price: float, step: str, before: int) -> None:
        if price < cost[i][j][waiting]:
            cost[i][j][waiting] = price
            came[i][j][waiting] = (step, before)

    for i in range(rows):
        for j in range(columns):
            for waiting in (0, 1):
                so_far = cost[i][j][waiting]
                if so_far == float("inf"):
                    continue
                if i < rows - 1 and j < columns - 1:
                    right = written[i] == played[j]
                    price = waiting * _TRY_BEFORE_RIGHT_COST if right else 1.0
                    relax(i + 1, j + 1, 0, so_far + price + _LATER_ANSWER_COST * (i + j), "answer", waiting)
                if j < columns - 1:
                    relax(i, j + 1, 1, so_far + 1, "try", waiting)
                if i < rows - 1:
                    unread = j == columns - 1
                    relax(i + 1, j, waiting, so_far + (_UNREAD_COST if unread else 1), "left out", waiting)
    return _traced(cost, came)


def _traced(cost: list[list[list[float]]], came: list[list[list[tuple[str, int]]]]) -> list[str]:
    """The steps from the beginning, read back from the end."""
    i, j = len(cost) - 1, len(cost[0]) - 1
    waiting = min((0, 1), key=lambda state: cost[i][j][state])
    steps = []
    while i or j:
        step, before = came[i][j][waiting]
        steps.append(step)
        i -= step != "try"
        j -= step != "left out"
        waiting = before
    return steps[::-1]
