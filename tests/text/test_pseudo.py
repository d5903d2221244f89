"""In the language of brackets the words of the catalogue stand in brackets, and no others."""

from datetime import date

import pytest

from game.message import message
from game.text.pseudo import BracketedCatalogue


@pytest.fixture(scope="module")
def brackets():
    return BracketedCatalogue()


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (message("bars.one", number=3), "«bar »3"),
        (message("report.page.where", title="Ode to Joy", bars=message("bars.one", number=3)), "Ode to Joy, «bar »3"),
        (message("report.share_between", share=0.96, low=0.9, high=1.0), "96% (90%« to »100%)"),
        (message("report.mark_on", mark="x", day=date(2026, 3, 3)), "x« on »«3 March 2026»"),
        (message("command.score.changes", bar="3", changes=("a", "b")), "«Bar »3« changes to »a« and »b."),
        (message("verbatim", text="an old sentence"), "an old sentence"),
        (message("argparse.invalid_value"), "«invalid »%(type)s« value: »%(value)r"),
    ],
)
def test_the_words_of_a_sentence_are_bracketed_and_what_fills_its_gaps_is_not(brackets, said, told):
    assert brackets.tell(said) == told


def test_numbers_are_bracketed_where_they_are_words(brackets):
    assert [brackets.in_words(number) for number in (3, 13)] == ["«three»", "13"]
    assert brackets.in_figures(1234.5, ",.1f") == "1,234.5"
    assert brackets.on_day(date(2026, 3, 3), "short") == "«3 Mar»"
