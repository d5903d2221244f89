"""Rows of many takes as columns."""

from game.practice_log.documents.document_parts import HelpColumns
from game.practice_log.documents.written_columns import columns_of_numbers, in_struct, truths
from tests.practice_log.transfer.practised import empty_log


def test_the_rows_of_each_number_are_its_columns_in_order():
    log = empty_log()
    log.execute("CREATE TABLE row (take, k, word)")
    log.executemany("INSERT INTO row VALUES (?, ?, ?)", [(2, 2, "b"), (1, 1, "x"), (2, 1, "a"), (3, 1, "no")])
    columns = columns_of_numbers(log, "SELECT take, k, word FROM row WHERE take", "ORDER BY take, k", [1, 2])
    assert columns == {1: [(1,), ("x",)], 2: [(1, 2), ("a", "b")]}


def test_no_rows_are_no_columns():
    assert in_struct(HelpColumns, None) is None
    assert in_struct(HelpColumns, [(1,), ("letter",), (5,)]) == HelpColumns(n=[1], step=["letter"], at=[5])


def test_truth_may_be_unknown():
    assert truths((0, 1, None)) == (False, True, None)
