"""What the fields of a tune mean (ABC standard 2.1, quoted from memory)."""

from fractions import Fraction

import pytest

from game.errors import TuneError
from game.message import message
from game.music.meter import Meter
from game.tunes.abc.abc_fields import key_of, meter_of, tuplet_ratio, unit_length_of
from tests.refusing import refusal
from tests.tunes.abc.hand_written_abc import abc_score

KEYS = [
    ("C", 0, False), ("G", 1, False), ("Bb", -2, False), ("F#m", 3, True), ("Am", 0, True), ("A minor", 0, True),
    ("Ddor", 0, False), ("D Dorian", 0, False), ("EPhr", 0, False), ("Flyd", 0, False), ("Gmix", 0, False),
    ("A Mixolydian", 2, False), ("Aaeo", 0, True), ("Bloc", 0, False), ("HP", 2, False), ("none", 0, False),
    ("C clef=bass", 0, False), ("D =c", 1, False), ("D exp _b _e", -2, False),
]  # fmt: skip


@pytest.mark.parametrize(("field", "fifths", "minor"), KEYS)
def test_keys_and_modes_have_their_signatures(field, fifths, minor):
    """Modes by their distance from the major key (ABC 2.1, and any handbook of modes)."""
    key = abc_score("C4", key=field).bars[0].key
    assert (key.fifths, key.minor) == (fifths, minor)


@pytest.mark.parametrize(
    ("meter", "length"), [("4/4", "1/2"), ("3/4", "1/2"), ("2/4", "1/4"), ("6/8", "1/2"), ("C|", "1/2"), ("3/8", "1/4")]
)
def test_the_default_length_follows_the_metre(meter, length):
    """A sixteenth where the metre is below 3/4, else an eighth (ABC 2.1)."""
    assert abc_score("C D", meter=meter, unit="").bars[0].notes[0].length == Fraction(length)


HEADER = message("abc.header", file="tune.abc")


@pytest.mark.parametrize("value", ["", "clef=bass", "Hello", "bass"])
def test_a_field_that_names_no_key_is_none(value: str):
    assert key_of(value) is None


def test_a_signature_nobody_prints_is_none():
    """G sharp major would have eight sharps."""
    assert key_of("G#") is None


def test_letters_altered_against_the_signature_are_kept_where_no_signature_has_them():
    field = key_of("A phr ^c")
    assert field is not None
    assert not field.usual
    assert [field.alter_of(step) for step in "ABC"] == [0, -1, 1]


@pytest.mark.parametrize(
    ("value", "meter"),
    [
        ("4/4", Meter()), ("C", Meter()), ("C|", Meter(2, 2)), (" 6/8 ", Meter(6, 8)), ("2+3/8", Meter(5, 8)),
        ("(2+2+3)/8", Meter(7, 8)), ("none", None), ("", None), ("free", None),
    ],
)  # fmt: skip
def test_metres_are_beats_and_units_or_none(value: str, meter: Meter | None):
    assert meter_of(value, HEADER) == meter


@pytest.mark.parametrize("value", ["0/4", "65/4", "4/5", "4/256"])
def test_a_metre_nobody_can_count_is_refused_where_it_stands(value: str):
    with refusal(TuneError, rf"tune\.abc: the header has a metre of {value}"):
        meter_of(value, HEADER)


@pytest.mark.parametrize(
    ("value", "quarters"), [("1/8", Fraction(1, 2)), ("1", 4), ("1/1", 4), ("1/512", Fraction(1, 128))]
)
def test_default_lengths_are_given_in_quarter_notes(value: str, quarters: Fraction | int):
    assert unit_length_of(value, HEADER) == quarters


@pytest.mark.parametrize("value", ["", "x", "2/1", "1/1024", "0/8"])
def test_a_default_length_that_cannot_be_is_refused(value: str):
    with refusal(TuneError, "the header has a default length of"):
        unit_length_of(value, HEADER)


@pytest.mark.parametrize(
    ("actual", "simple", "compound"),
    [(2, 3, 3), (3, 2, 2), (4, 3, 3), (5, 2, 3), (6, 2, 2), (7, 2, 3), (8, 3, 3), (9, 2, 3)],
)
def test_tuplets_last_what_the_standard_says_by_count_and_metre(actual: int, simple: int, compound: int):
    """ABC 2.1: (5, (7 and (9 last three in a compound metre, else two."""
    assert tuplet_ratio(actual, 0, Meter()) == simple
    assert tuplet_ratio(actual, 0, Meter(6, 8)) == compound
    assert tuplet_ratio(actual, 4, Meter()) == 4
