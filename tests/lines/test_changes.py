"""Changes: real cadences, the usual rounds, spelled as the key has them."""

from random import Random

import pytest

from game.errors import TuneError
from game.lines.changes import changes
from game.lines.scale import key_named, scale_of
from tests.lines.making import ALL_KEYS, MAP
from tests.refusing import refusal

KEYS = [key.name for key in ALL_KEYS]


def texts(key, bars, seed=0):
    rows = changes(scale_of(key_named(key), MAP), bars, Random(seed))
    return [" ".join(chord.symbol(0).text for chord in row) for row in rows]


def without_repeats(rows):
    flat = [text for row in rows for text in row.split()]
    return [text for index, text in enumerate(flat) if index == 0 or text != flat[index - 1]]


# The cadences of the keys of the shelf, written out by hand (harmony textbooks, trade).
CADENCES = {
    "F": ["Gm7", "C7", "F6"],
    "Bb": ["Cm7", "F7", "Bb6"],
    "C": ["Dm7", "G7", "C6"],
    "G": ["Am7", "D7", "G6"],
    "Eb": ["Fm7", "Bb7", "Eb6"],
    "Dm": ["Em7b5", "A7", "Dm6"],
    "Am": ["Bm7b5", "E7", "Am6"],
    "Gm": ["Am7b5", "D7", "Gm6"],
}


@pytest.mark.parametrize("key", CADENCES)
def test_every_line_ends_two_five_one(key):
    for bars in range(2, 30):
        for seed in range(4):
            rows = texts(key, bars, seed)
            assert len(rows) == bars
            assert without_repeats(rows)[-3:] == CADENCES[key]


@pytest.mark.parametrize("key", KEYS)
def test_every_key_whose_dominant_needs_no_double_sharp_has_changes_of_every_length(key):
    for bars in (2, 3, 4, 5, 8, 12, 16, 30):
        assert len(texts(key, bars, bars)) == bars


def test_the_usual_rounds_come_up():
    """Turnarounds, a two-five to the fourth degree, a bridge of dominants, the minor ones (trade)."""
    major = {" | ".join(texts("C", 8, seed)[:4]) for seed in range(200)}
    assert {
        "Cmaj7 | Am7 | Dm7 | G7",
        "Em7 | A7 | Dm7 | G7",
        "Cmaj7 | Gm7 C7 | Fmaj7 | Fm6",
        "Bm7b5 | E7 | Am7 | D7",
        "E7 | A7 | D7 | G7",
    } <= major
    minor = {" | ".join(texts("Am", 8, seed)[:4]) for seed in range(200)}
    assert {
        "Am7 | Fmaj7 | Bm7b5 | E7",
        "Dm7 | G7 | Cmaj7 | Fmaj7",
        "A7 | Dm7 | G7 | Cmaj7",
        "Em7 A7 | Dm7 | Bm7b5 E7 | Am7",
    } <= minor


@pytest.mark.parametrize(
    ("key", "blues"),
    [
        ("F", "F7 Bb7 F7 Cm7_F7 Bb7 Bb7 F7 Am7_D7 Gm7 C7 F6 F6"),
        ("Cm", "Cm7 Fm7 Cm7 C7 Fm7 Fm7 Cm7 Cm7 Dm7b5 G7 Cm6 Cm6"),
    ],
)
def test_twelve_bars_may_be_a_blues(key, blues):
    found = {" ".join(row.replace(" ", "_") for row in texts(key, 12, seed)) for seed in range(40)}
    assert blues in found


@pytest.mark.parametrize("key", ["G#m", "D#m", "A#m"])
def test_a_key_whose_own_cadence_needs_double_sharps_is_refused(key):
    with refusal(TuneError, f"changes in {key} need double sharps or flats: choose another key"):
        texts(key, 8)
