"""Names of files and folders on the command line."""

import argparse
from pathlib import Path

import pytest

from game.commands.path_option import name_given, path_given
from tests.commands.running import refused


def test_whatever_is_no_empty_name_is_taken_as_it_is():
    assert path_given("a\nb") == Path("a\nb")
    assert name_given("postgresql://school/x") == "postgresql://school/x"


@pytest.mark.parametrize("given", [name_given, path_given])
def test_an_empty_name_is_told(given):
    with pytest.raises(argparse.ArgumentTypeError, match="the name is empty"):
        given("")


@pytest.mark.parametrize("words", [["gather", ""], ["report", "--from", ""], ["erase", "--player", "x", "--from", ""]])
def test_a_folder_that_nobody_named_is_neither_the_one_here_nor_somebody_elses(words):
    """As where a script's variable was never set."""
    assert "the name is empty: name a file or folder" in refused(*words)
