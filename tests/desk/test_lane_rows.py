"""Marks under neighbouring notes stagger in the rows of their lane, or are left out."""

from itertools import combinations
from random import Random

import pytest

from game.desk.lane_rows import NOWHERE, MarkColumn, RowsTaken, rows_taken
from tests.sampling import how_many

GAP, STROKE_GAP = 4.0, 1.5


def column(x, *widths, importance=0):
    return MarkColumn(x=x, spans=tuple((x - width / 2, x + width / 2) for width in widths), importance=importance)


def test_marks_that_do_not_touch_stand_in_the_first_row():
    columns = [column(0, 20), column(24, 20), column(60, 20)]
    assert rows_taken(columns, 3, GAP) == (RowsTaken(0, 1),) * 3


def test_where_two_would_touch_the_second_goes_a_row_down():
    assert rows_taken([column(0, 20), column(20, 20)], 2, GAP) == (RowsTaken(0, 1), RowsTaken(1, 1))


def test_a_stroke_crosses_no_mark_and_no_mark_is_written_on_a_stroke():
    """The second mark reaches under the third note, whose stroke would cross it in the second row."""
    under, wide = column(20, 60), column(0, 20)
    assert rows_taken([wide, under, column(40, 50)], 3, GAP)[2] == NOWHERE


def test_the_marks_of_a_note_stand_one_below_the_other():
    assert rows_taken([column(0, 20, 40)], 3, GAP) == (RowsTaken(0, 2),)


def test_what_matters_less_is_left_out_where_there_is_not_room_for_both():
    columns = [column(0, 30, importance=0), column(10, 30, importance=5)]
    assert rows_taken(columns, 1, GAP) == (NOWHERE, RowsTaken(0, 1))
    assert rows_taken([column(0, 20, 20)], 1, GAP) == (RowsTaken(0, 1),)


def test_a_lane_without_rows_holds_nothing():
    assert rows_taken([column(0, 20)], 0, GAP) == (NOWHERE,)


@pytest.mark.parametrize("seed", range(how_many(300, by_default=30)))
def test_whatever_is_written_nothing_touches(seed):
    chance = Random(seed)
    x, columns = 0.0, []
    for _ in range(chance.randint(1, 60)):
        x += chance.uniform(6, 40)
        widths = [chance.uniform(8, 50) for _ in range(chance.randint(1, 3))]
        columns.append(column(x, *widths, importance=chance.randint(0, 3)))
    rows = chance.randint(1, 4)
    taken = rows_taken(columns, rows, GAP, STROKE_GAP)
    spans, strokes = [], []
    for one, where in zip(columns, taken, strict=True):
        assert where.first + where.count <= rows
        spans += [(where.first + at, *span) for at, span in enumerate(one.spans[: where.count])]
        strokes += [(row, one.x, one.x) for row in range(where.first if where.count else 0)]
    for first, second in combinations([*spans, *strokes], 2):
        if first[0] == second[0] and (first in spans or second in spans):
            gap = GAP if first in spans and second in spans else STROKE_GAP
            assert first[2] + gap <= second[1] or second[2] + gap <= first[1]
