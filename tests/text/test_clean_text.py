"""Text out of files is on one line, of signs that can be seen, and not too long."""

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.text.catalogue import say
from game.text.clean_text import LONGEST, cleaned, cleaned_name, harmless, has_ending


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


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("plain.abc", "plain.abc"),
        ("folder/plain.abc", "plain.abc"),
        (os.fsdecode(b"caf\xe9.abc"), "café.abc"),
        (os.fsdecode(b"\x93Ford\x94\n.abc"), "Ford .abc"),
        ("cafe\N{COMBINING ACUTE ACCENT}.abc", "café.abc"),
        ("a\x1b[31m\nb\N{RIGHT-TO-LEFT OVERRIDE}cba.abc", "a[31m bcba.abc"),
        ("lone \ud800.abc", "lone .abc"),
        ("/", "/"),
    ],
)
def test_the_name_of_a_file_can_be_shown_whatever_bytes_it_is_of(name, shown):
    assert cleaned_name(Path(name)) == shown


def test_a_title_as_long_as_a_book_is_cut_without_looking_at_all_of_it():
    """Signs that nobody sees are passed over, but not for ever."""
    assert cleaned("\N{ZERO WIDTH SPACE}" * 100 + "x" * 10_000_000) == "x" * (LONGEST - 1) + "…"
    assert cleaned("\N{ZERO WIDTH SPACE}" * 10_000_000 + "x") == ""


@pytest.mark.parametrize(
    ("text", "put_in"),
    [
        ("Bb7 and B♭, F♯\N{NO-BREAK SPACE}m", "Bb7 and B♭, F♯\N{NO-BREAK SPACE}m"),
        ("  as it stands ", "  as it stands "),
        ("two\nlines", "two lines"),
        ("\x1b[2Jgone\x07", "[2Jgone"),
        ("\N{RIGHT-TO-LEFT OVERRIDE}cba", "cba"),
        ("\N{LEFT-TO-RIGHT ISOLATE}x\N{POP DIRECTIONAL ISOLATE}", "x"),
        (os.fsdecode(b"/music/caf\xe9.abc"), "/music/café.abc"),
    ],
)
def test_what_is_put_into_a_sentence_leaves_the_rest_of_it_alone(text, put_in):
    assert harmless(text) == put_in
    assert say("tune.empty", file=text).startswith(f"{put_in}: is empty")


def test_an_ending_is_known_in_capitals_and_below_that_of_notepad():
    for name, has in (("a.toml", True), ("A.TOML", True), ("a.Toml.TXT", True), ("a.txt", False), ("toml", False)):
        assert has_ending(Path(name), ".toml") is has
