"""What argparse says by itself is said by our catalogue."""

import argparse

import pytest

from game.commands.argparse_words import teach_argparse
from game.text.catalogue import say
from tests.speaking import speaking


@pytest.fixture
def parser():
    teach_argparse()
    with speaking("pseudo"):
        made = argparse.ArgumentParser(prog="x", exit_on_error=False)
        made.add_argument("file", metavar="FILE")
        made.add_argument("--number", type=int)
        made.add_argument("--pair", nargs=2)
        made.add_argument("--kind", choices=["a", "b"])
        yield made


def test_the_help_text_has_no_word_of_argparse_outside_the_catalogue(parser):
    told = parser.format_help()
    assert "«usage: »x [-h]" in told
    assert "«positional arguments»:" in told
    assert "«options»:" in told
    assert "«show this help message and exit»" in told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "«the following arguments are required: »FILE"),
        (["f", "--number", "x"], "«argument »--number: «invalid »int« value: »'x'"),
        (["f", "--number"], "«argument »--number: «expected one argument»"),
        (["f", "--pair", "1"], "«argument »--pair: «expected »2« arguments»"),
        (["f", "g"], "«unrecognized arguments: »g"),
        (["f", "--kind", "c"], "«argument »--kind: «invalid choice: »'c'« (choose from »"),
    ],
)
def test_each_mistake_is_told_in_our_words(parser, words, told, monkeypatch, capsys):
    monkeypatch.setattr(parser, "exit_on_error", True)
    with pytest.raises(SystemExit):
        parser.parse_args(words)
    assert told in capsys.readouterr().err


def test_a_sentence_of_another_python_stands_as_it_is():
    teach_argparse()
    with speaking("pseudo"):
        assert vars(argparse)["_"]("a sentence of tomorrow") == "a sentence of tomorrow"
        assert vars(argparse)["ngettext"]("a dog", "%s dogs", 2) == "%s dogs"


def test_what_english_says_is_what_argparse_says():
    """Word for word: the source of each sentence is Python's own module."""
    from game.commands.argparse_words import _KEYS

    assert {sentence: say(key, count=1) for sentence, key in _KEYS.items()} == {
        sentence: sentence for sentence in _KEYS
    }
