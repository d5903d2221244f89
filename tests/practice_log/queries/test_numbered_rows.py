"""Rows of several things, given out thing by thing."""

from game.practice_log.queries.numbered_rows import NumberedRows


def test_what_has_rows_gives_them_and_what_has_none_nothing():
    rows = NumberedRows(iter([(2, "a"), (2, "b"), (5, "c")]))
    assert [rows.of(number) for number in (1, 2, 3, 5, 6)] == [(), ((2, "a"), (2, "b")), (), ((5, "c"),), ()]
    assert NumberedRows(iter(())).of(1) == ()
