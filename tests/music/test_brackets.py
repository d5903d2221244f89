"""Brackets as they are drawn. Pages are in the shorthand of `tests.music.order_pages`."""

import pytest

from game.music.brackets import Bracket, drawn_brackets
from game.music.score import BarMarks
from tests.music.order_pages import page


def drawn(marks):
    return [(bracket.first, bracket.last, bracket.numbers) for bracket in drawn_brackets(marks)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a b c", []),
        ("a b[1] c", [(1, 1, (1,))]),
        ("a b[1 c] d", [(1, 2, (1,))]),
        ("a b[1 c]:| d[2 e]", [(1, 2, (1,)), (3, 4, (2,))]),
        ("a b[1] c[1] d", [(1, 1, (1,)), (2, 2, (1,))]),
        ("a b[12]:| c[3", [(1, 1, (1, 2)), (2, 2, (3,))]),
        ("a b[1:| c d", [(1, 1, (1,))]),
        ("a b[2 c|: d", [(1, 1, (2,))]),
        ("a b[2 c@ d", [(1, 1, (2,))]),
        ("a[1] b", [(0, 0, (1,))]),
    ],
)
def test_a_bracket_runs_until_it_is_closed_or_a_sign_ends_it(text, expected):
    """A repeat sign, an opening sign or a coda: what comes behind is under none."""
    assert drawn([bar.marks for bar in page(text)]) == expected


def test_other_numbers_begin_another_bracket_also_without_a_mark_of_it():
    assert drawn([BarMarks(endings=(1,)), BarMarks(endings=(2,))]) == [(0, 0, (1,)), (1, 1, (2,))]


def test_a_bracket_is_as_long_as_to_where_it_is_over():
    assert Bracket(first=3, last=3, numbers=(1,), over=6).length == 4
