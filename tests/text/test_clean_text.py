"""Text out of files is on one line, of signs that can be seen, and not too long."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.text.clean_text import LONGEST, cleaned


@pytest.mark.parametrize(
    ("text", "clean"),
    [
        (None, ""),
        ("  two \t words\n", "two words"),
        ("bell\a and null\0", "bell and null"),
        ("turned \N{RIGHT-TO-LEFT OVERRIDE}round", "turned round"),
        ("lone \ud800 surrogate", "lone surrogate"),
        ("zero\N{ZERO WIDTH SPACE}width", "zerowidth"),
        ("Möwe ♭ <b>", "Möwe ♭ <b>"),
    ],
)
def test_what_cannot_be_seen_is_taken_out(text, clean):
    assert cleaned(text).replace("  ", " ") == clean


def test_what_is_too_long_is_cut_and_shows_it():
    assert cleaned("x" * LONGEST) == "x" * LONGEST
    assert cleaned("x" * (LONGEST + 1)) == "x" * (LONGEST - 1) + "…"
    assert cleaned("some words here", 11) == "some words…"


@given(st.text())
def test_whatever_comes_stands_on_one_line_and_can_be_printed(text):
    clean = cleaned(text)
    assert len(clean) <= LONGEST
    assert clean.isprintable()
