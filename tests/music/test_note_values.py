"""Lengths as printed values, and where tuplets begin and end."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.music.note_values import BASES, bracketed, rests_between, value_of, values_of
from game.music.pitch import pitch
from game.music.score import Note, NoteValue, Tuplet


@pytest.mark.parametrize(
    ("length", "base", "dots", "ratio"),
    [
        (Fraction(1), 1, 0, None),
        (Fraction(3, 2), 1, 1, None),
        (Fraction(7, 4), 1, 2, None),
        (Fraction(6), 4, 1, None),
        (Fraction(1, 3), Fraction(1, 2), 0, (3, 2)),
        (Fraction(2, 3), 1, 0, (3, 2)),
        (Fraction(1, 5), Fraction(1, 4), 0, (5, 4)),
    ],
)
def test_a_length_has_its_printed_value(length, base, dots, ratio):
    """Base, dots and ratio, by the arithmetic of note values."""
    value = value_of(length)
    assert (value.base, value.dots) == (base, dots)
    assert (ratio is None) == (value.tuplet is None)
    assert ratio is None or (value.tuplet.actual, value.tuplet.normal) == ratio


@given(st.integers(1, 1024).map(lambda units: Fraction(units, 32)))
def test_any_length_in_128ths_is_printed_exactly(length):
    """Tied values together last what they stand for."""
    assert sum(value.length for value in values_of(length)) == length


@given(st.integers(1, 24), st.sampled_from([12, 24, 20, 28, 18, 6, 3, 5, 7]))
def test_any_length_of_a_usual_tuplet_is_printed_exactly(units, parts):
    """A triplet and what follows ("5/3"), several notes of a quintuplet: tied values come to the length."""
    length = Fraction(units, parts)
    values = values_of(length)
    assert sum(value.length for value in values) == length
    assert len(values) <= 6


def test_a_length_over_a_tuplet_takes_few_values():
    """Beats first, then what is left of the tuplet; else notes of one tuplet."""
    assert [value.length for value in values_of(Fraction(5, 3))] == [1, Fraction(2, 3)]
    assert [value.length for value in values_of(Fraction(5, 12))] == [Fraction(1, 4), Fraction(1, 6)]
    assert [value.base for value in values_of(Fraction(7, 18))] == [Fraction(1, 4), Fraction(1, 16)]


def test_a_length_nobody_prints_gets_the_nearest_value():
    """53/160 of a quarter is near an eighth."""
    (value,) = values_of(Fraction(53, 160))
    assert value.base == Fraction(1, 4)
    assert value.base in BASES


def test_rests_fill_a_gap_exactly_and_no_gap_gets_none():
    """From the first moment to the last."""
    rests = list(rests_between(Fraction(1, 2), Fraction(4)))
    assert sum(rest.length for rest in rests) == Fraction(7, 2)
    assert rests[0].onset == Fraction(1, 2)
    assert list(rests_between(Fraction(2), Fraction(2))) == []


def tuplet_notes(*bases: Fraction, ends: str = "") -> list[Note]:
    """Notes in triplet values; `ends` marks what the file said, a letter a note: s(tart), e(nd) or a dot."""
    notes, onset = [], Fraction(0)
    for base, end in zip(bases, ends or "." * len(bases), strict=True):
        value = NoteValue(base=base, tuplet=Tuplet(actual=3, normal=2, starts=end == "s", stops=end == "e"))
        notes.append(Note(onset=onset, length=value.length, value=value, pitch=pitch("C5")))
        onset += value.length
    return notes


EIGHTH, QUARTER = Fraction(1, 2), Fraction(1)


@pytest.mark.parametrize(
    ("bases", "ends", "expected"),
    [
        ((EIGHTH,) * 3, "", "s.e"),
        ((EIGHTH,) * 6, "", "s.es.e"),
        ((QUARTER, EIGHTH), "", "se"),
        ((EIGHTH, QUARTER, EIGHTH, QUARTER), "", "sese"),
        ((QUARTER,) * 3, "", "s.e"),
        ((EIGHTH,) * 6, "s....e", "s....e"),
        ((EIGHTH,) * 3, "s..", "s.e"),
        ((EIGHTH,) * 2, "", "se"),
    ],
)
def test_brackets_close_where_the_group_is_full(bases, ends, expected):
    """What the file marks stands where it pairs off; the rest is worked out."""
    marked = [event.value.tuplet for event in bracketed(tuplet_notes(*bases, ends=ends))]
    shown = "".join("s" if one.starts else "e" if one.stops else "." for one in marked)
    assert shown == expected
