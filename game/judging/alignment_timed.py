"""Which played note answers which written note when the clock ran: a global alignment by dynamic programming.

Each written note is answered by at most one played note and the order is kept. The cost of an alignment is
the sum of what it supposes: a note left out, a note too many, a wrong pitch, and how far each answer lies
from the bias of this player. The costs are negative logarithms of how often such a thing happens where one
note in twenty is dropped, added or wrong and notes are placed with a spread of 40 ms; time has the long tails
of Student's distribution with two degrees of freedom, since a note that is really late is still that note.

Stretches in which note follows note as written need no search: only what lies between them is aligned, each
block a band of a matrix as wide as a note may stray.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log

MISSED_COST = 3.0
EXTRA_COST = 7.0
WRONG_COST = 4.5
SPREAD_S = 0.040
NO_ANSWER = -1
"""Stands for the played note where a written note has none."""

_MS = 1000
_TIME_COSTS = tuple(1.5 * log(1 + (ms / _MS / SPREAD_S) ** 2 / 2) for ms in range(2001))
_NEAR_S = 2 * SPREAD_S
_TWO_MORE = MISSED_COST + EXTRA_COST
_OUT_OF_REACH = 1000.0
_TRY, _ANSWER, _LEFT_OUT = 0, 1, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedRows:
    """What is written and what was played in a timed take, as rows of numbers.

    `due_s` and `times_s` rise; `asked` and `sounding` are MIDI numbers (all equal where only the rhythm
    counts).
    """

    due_s: Sequence[float]
    asked: Sequence[int]
    times_s: Sequence[float]
    sounding: Sequence[int]


def time_cost(distance_s: float) -> float:
    """What it costs to be `distance_s` from where the note was expected of this player, either side."""
    return _TIME_COSTS[min(2000, int(abs(distance_s) * _MS))]


def align_timed(rows: TimedRows, *, bias_s: float, reach_s: float) -> list[int]:
    """For each written note the index of the played note that answers it, or `NO_ANSWER`.

    `bias_s` is where this player's notes lie relative to the click; an answer lies within `reach_s` of it.
    """
    pairs = [NO_ANSWER] * len(rows.due_s)
    for block in _blocks(rows, bias_s, pairs):
        if not _one_thing_wrong(rows, block, bias_s, reach_s, pairs):
            _align_block(rows, block, bias_s, reach_s, pairs)
    return pairs


def _blocks(rows: TimedRows, bias_s: float, pairs: list[int]) -> Iterator[tuple[int, int, int, int]]:
    """Fill in `pairs` where note follows note; yield the blocks (from, to, from, to) that need a search.

    A block takes in the last note before it and the first after it, whose answers may be in doubt as well.
    """
    due_s, asked, times_s, sounding = rows.due_s, rows.asked, rows.times_s, rows.sounding
    notes, count = len(due_s), len(times_s)
    i = j = 0
    while i < notes or j < count:
        while (
            i < notes
            and j < count
            and asked[i] == sounding[j]
            and -_NEAR_S <= times_s[j] - due_s[i] - bias_s <= _NEAR_S
        ):
            pairs[i] = j
            i += 1
            j += 1
        if i == notes and j == count:
            return
        next_i, next_j = _resumed(rows, bias_s, i, j)
        from_i, from_j = (i - 1, j - 1) if i and j and pairs[i - 1] == j - 1 else (i, j)
        pairs[from_i:i] = [NO_ANSWER] * (i - from_i)
        to_i, to_j = min(notes, next_i + 1), min(count, next_j + 1)
        yield from_i, to_i, from_j, to_j
        i, j = to_i, to_j


def _resumed(rows: TimedRows, bias_s: float, i: int, j: int) -> tuple[int, int]:
    """From written note `i` and played note `j` on, the first place where two notes running are as
    written.
    """
    due_s, asked, times_s, sounding = rows.due_s, rows.asked, rows.times_s, rows.sounding
    notes, count = len(due_s), len(times_s)
    for at in range(j, count - 1):
        at_s = times_s[at] - bias_s
        first = max(i, bisect_left(due_s, at_s - _NEAR_S, i))
        for index in range(first, min(notes - 1, bisect_right(due_s, at_s + _NEAR_S, first))):
            followed_s = times_s[at + 1] - bias_s - due_s[index + 1]
            as_written = asked[index] == sounding[at] and asked[index + 1] == sounding[at + 1]
            if as_written and abs(followed_s) <= _NEAR_S:
                return index, at
    return notes, count


def _one_thing_wrong(
    rows: TimedRows, block: tuple[int, int, int, int], bias_s: float, reach_s: float, pairs: list[int]
) -> bool:
    """Fill in `pairs` for a block in which the notes go side by side but for one note left out, or one too many.

    Any other alignment of it supposes a further note left out and a further one too many. Where side by side costs
    less than those it is the cheapest, and no search is needed: the commonest blocks by far.
    """
    from_i, to_i, from_j, to_j = block
    more = (to_j - from_j) - (to_i - from_i)
    if not -1 <= more <= 1:
        return False
    side_by_side = min(to_i - from_i, to_j - from_j)
    steps = range(side_by_side)
    # Those before the odd note go pair by pair, those after it one further along where there is one more.
    before = [_pair_cost(rows, from_i + step, from_j + step, bias_s, reach_s) for step in steps]
    odd, cost = side_by_side, sum(before)
    if more:
        shift_i, shift_j = from_i + (more < 0), from_j + (more > 0)
        for step in reversed(steps):
            after = _pair_cost(rows, shift_i + step, shift_j + step, bias_s, reach_s)
            before[step] -= after
        # `before` holds now what each pair saves by going along shifted.
        odd, cost = _best_cut(before, cost)
    if cost >= _TWO_MORE:
        return False
    for step in steps:
        shifted = step >= odd
        pairs[from_i + step + (more < 0 and shifted)] = from_j + step + (more > 0 and shifted)
    return True


def _best_cut(savings: Sequence[float], cost: float) -> tuple[int, float]:
    """From which step on it is best to take the savings of all that follow, and the cost then."""
    best, best_cost = len(savings), cost
    for step in range(len(savings) - 1, -1, -1):
        cost -= savings[step]
        if cost < best_cost:
            best, best_cost = step, cost
    return best, best_cost


def _pair_cost(rows: TimedRows, index: int, at: int, bias_s: float, reach_s: float) -> float:
    offset_s = abs(rows.times_s[at] - rows.due_s[index] - bias_s)
    cost = _TIME_COSTS[int(offset_s * _MS)] if offset_s < reach_s else _OUT_OF_REACH
    return cost if rows.asked[index] == rows.sounding[at] else cost + WRONG_COST


def _align_block(
    rows: TimedRows, block: tuple[int, int, int, int], bias_s: float, reach_s: float, pairs: list[int]
) -> None:
    """Fill in `pairs` for a block, at least cost.

    Row j of the matrix holds, for each count of written notes used up, the least cost of having used up
    played notes to j as well. Only counts whose last note lies within reach of the played note are kept;
    beyond the row's end every further note is left out.
    """
    from_i, to_i, from_j, to_j = block
    if from_j == to_j or from_i == to_i:
        return
    due_s, asked = rows.due_s, rows.asked
    costs, top = [0.0], from_i
    matrix = []
    for j in range(from_j, to_j):
        at_s = rows.times_s[j] - bias_s
        low = max(from_i, bisect_left(due_s, at_s - reach_s, from_i, to_i))
        high = max(bisect_right(due_s, at_s + reach_s, low, to_i), top)
        low = max(low, top - len(costs) + 1)
        above = _carried(costs, top, low, high)
        pitch = rows.sounding[j]
        best = above[0] + EXTRA_COST
        row, steps = [best], bytearray((_TRY,))
        for index in range(low, high):
            distance_ms = int(abs(at_s - due_s[index]) * _MS)
            answer = above[index - low] + _TIME_COSTS[distance_ms if distance_ms < 2000 else 2000]  # noqa: FURB136 (the innermost loop)
            if asked[index] != pitch:
                answer += WRONG_COST
            best += MISSED_COST
            step = _LEFT_OUT
            if answer <= best:
                best, step = answer, _ANSWER
            extra = above[index - low + 1] + EXTRA_COST
            if extra < best:
                best, step = extra, _TRY
            row.append(best)
            steps.append(step)
        matrix.append((low, steps))
        costs, top = row, high
    _trace(matrix, to_i, from_j, pairs)


def _carried(costs: list[float], top: int, low: int, high: int) -> list[float]:
    """The row above, which ends at count `top`, cut and prolonged to the counts `low` to `high`."""
    start = low - (top - len(costs) + 1)
    kept = costs[start:] if start < len(costs) else []
    first_new = max(top + 1, low)
    return kept + [costs[-1] + MISSED_COST * (count - top) for count in range(first_new, high + 1)]


def _trace(matrix: list[tuple[int, bytearray]], to_i: int, from_j: int, pairs: list[int]) -> None:
    """Read the cheapest path back from the end of a block."""
    used = to_i
    for j in range(from_j + len(matrix) - 1, from_j - 1, -1):
        low, steps = matrix[j - from_j]
        used = min(used, low + len(steps) - 1)
        while steps[used - low] == _LEFT_OUT:
            used -= 1
        if steps[used - low] == _ANSWER:
            used -= 1
            pairs[used] = j
