"""Numbers on the command line."""

import argparse
import math

import pytest

from game.commands.number_option import number, whole_number


def test_numbers_are_given_in_figures_of_any_script():
    assert (whole_number("6"), whole_number("-2"), whole_number("١٢")) == (6, -2, 12)
    assert (number("1.5"), number("6"), number("inf")) == (1.5, 6.0, math.inf)


@pytest.mark.parametrize("text", ["", "x", "1.5", "six", "½", "1e3", "nan", "\udcff"])
def test_any_other_word_for_a_whole_number_is_told(text):
    with pytest.raises(argparse.ArgumentTypeError, match="is no whole number: write it in figures"):
        whole_number(text)


@pytest.mark.parametrize("text", ["", "x", "1,5", "½"])
def test_any_other_word_for_a_number_is_told(text):
    with pytest.raises(argparse.ArgumentTypeError, match="is no number: write it in figures"):
        number(text)
