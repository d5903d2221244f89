"""The parts of documents: rows as columns."""

import pytest

from game.practice_log.documents.document_parts import AnswerColumns, HelpColumns, VerdictColumns, rising


def test_columns_are_of_one_length():
    with pytest.raises(ValueError, match="several lengths"):
        HelpColumns(n=[1, 2], step=["letter"], at=[0])
    assert len(HelpColumns(n=[1], step=["letter"], at=[0])) == 1


def test_no_note_has_two_verdicts_nor_two_answers_in_one_place():
    with pytest.raises(ValueError, match="out of order"):
        VerdictColumns(
            n=[1, 1], verdict=["clean"] * 2, cause=[None] * 2, octave_off=[False] * 2, offset_ms=[None] * 2,
            time_to_find_ms=[None] * 2,
        )  # fmt: skip
    with pytest.raises(ValueError, match="out of order"):
        AnswerColumns(n=[1, 1], k=[1, 1], i=[1, 2], sounding=[60, 60])


def test_rising_numbers_are_each_above_the_one_before():
    assert rising([])
    assert rising([1, 2, 5])
    assert not rising([1, 1])
    assert not rising([(1, 2), (1, 1)])
