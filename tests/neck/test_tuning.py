"""Tunings, places and frets."""

from collections import Counter

import pytest

from game.errors import MapError
from game.neck.tuning import STANDARD, TUNINGS, Place, tuning_named
from game.text.catalogue import tell
from tests.refusing import refusal


def places_by_pitch(frets):
    return Counter(STANDARD.sounding(Place(string, fret)) for string in range(1, 7) for fret in range(frets + 1))


def test_standard_tuning_is_e_a_d_g_b_e_from_string_6():
    """MIDI 40 45 50 55 59 64 (trade)."""
    assert STANDARD.open_strings[::-1] == (40, 45, 50, 55, 59, 64)


def test_a_neck_of_22_frets_has_138_places_for_47_pitches():
    """Calculated from the tuning: E2 to D6, mean 2.94 places a pitch, at most five, ten pitches with one."""
    counts = places_by_pitch(22)
    assert (counts.total(), len(counts)) == (138, 47)
    assert (min(counts), max(counts)) == (40, 86)
    assert round(counts.total() / len(counts), 2) == 2.94
    assert max(counts.values()) == 5
    assert sum(count == 1 for count in counts.values()) == 10


def test_a_neck_of_24_frets_has_150_places_for_49_pitches_and_six_for_e4():
    """Calculated from the tuning."""
    counts = places_by_pitch(24)
    assert (counts.total(), len(counts), counts[64]) == (150, 49, 6)


@pytest.mark.parametrize("tuning", TUNINGS.values(), ids=lambda tuning: tuning.name)
def test_the_fret_is_the_pitch_minus_the_open_string(tuning):
    for sounding in range(30, 100):
        for place in tuning.places_of(sounding, 22):
            assert place.fret == sounding - tuning.open_strings[place.string - 1]
            assert tuning.sounding(place) == sounding


def test_a_tuning_may_be_given_as_six_numbers_from_string_6():
    assert tuning_named("38 45 50 55 59 64").open_strings == TUNINGS["drop-d"].open_strings


@pytest.mark.parametrize("name", ["", "banjo", "40 45 50", "1 2 3 4 5 6", "a b c d e f"])
def test_a_tuning_that_is_none_is_refused_with_what_to_do(name):
    with refusal(MapError, "use one of standard"):
        tuning_named(name)


@pytest.mark.parametrize("tuning", TUNINGS.values(), ids=lambda tuning: tuning.name)
def test_a_tuning_of_the_table_is_told_by_its_key(tuning):
    assert tuning.told.key == f"settings.tuning.{tuning.name}"
    assert tell(tuning.told) == tuning.name


def test_another_tuning_is_told_by_its_numbers():
    assert tell(tuning_named("40 45 50 55 59 62").told) == "40 45 50 55 59 62"
