"""A day on the command line."""

import argparse
from datetime import date

import pytest

from game.commands.day_option import day_given


def test_a_day_is_given_as_in_the_standard():
    assert day_given("2026-03-14") == date(2026, 3, 14)


@pytest.mark.parametrize("text", ["yesterday", "14.3.2026", "2026-02-30", ""])
def test_any_other_word_is_told(text):
    with pytest.raises(argparse.ArgumentTypeError, match="day"):
        day_given(text)
