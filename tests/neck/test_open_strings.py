"""Open strings as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.neck.open_strings import numbers_of
from game.neck.tuning import STANDARD, TUNINGS

USUAL = {one.strings: one.open_strings for one in (STANDARD, TUNINGS["bass"], TUNINGS["seven-string"])}


def read(text):
    found = numbers_of(text, USUAL)
    return found if isinstance(found, str) else [number for _, number in found]


@pytest.mark.parametrize(
    "text",
    ["DADGAD", "dadgad", "D A D G A D", "d-a-d-g-a-d", "D2, A2, D3, G3, A3, D4", "D2/A2/D3/G3/A3/D4", "38 A D 55 A D"],
)
def test_one_tuning_is_written_in_many_ways(text):
    assert read(text) == [38, 45, 50, 55, 57, 62]


@pytest.mark.parametrize(
    "text",
    [
        "Eb Ab Db Gb Bb Eb",
        "E♭ A♭ D♭ G♭ B♭ E♭",
        "EbAbDbGbBbEb",
        "Es As Des Ges B Es",
        "D# G# C# F# A# D#",
        "eb ab db gb bb eb",
    ],
)
def test_flats_and_sharps_by_letters_by_signs_and_in_german(text):
    """German: Es is E flat, B is B flat (trade)."""
    assert read(text) == [39, 44, 49, 54, 58, 63]


@pytest.mark.parametrize("text", ["E A D G H E", "eadghe", "E2 A2 D3 G3 H3 E4"])
def test_h_is_b_natural_in_german(text):
    assert read(text) == [40, 45, 50, 55, 59, 64]


def test_b_is_b_flat_where_an_h_stands_beside_it():
    assert read("E A D G B H") == [40, 45, 50, 55, 58, 59]
    assert read("E A D G B E")[4] == 59


def test_a_second_octave_of_the_same_letter_lies_above_the_first():
    """As in C G C G C E, an open C (trade)."""
    assert read("CGCGCE") == [36, 43, 48, 55, 60, 64]


@pytest.mark.parametrize(
    ("text", "wrong"), [("E A D G B Q", "Q"), ("E A D G B E4x", "E4x"), ("²³ 5 6 7", "²³"), ("", "")]
)
def test_the_first_word_that_is_none_is_named(text, wrong):
    assert read(text) == wrong


@given(st.text(max_size=40))
def test_any_text_is_numbers_or_names_a_word(text):
    found = numbers_of(text, USUAL)
    assert isinstance(found, str) or (found and all(isinstance(number, int) for _, number in found))
