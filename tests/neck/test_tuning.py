"""Tunings, places and frets."""

from collections import Counter

import pytest

from game.errors import MapError
from game.music.pitch import pitch
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


@pytest.mark.parametrize("name", ["", "banjo", "E A D G B X", "D2 A2 D3 G3 A3 sharp"])
def test_what_is_neither_a_name_nor_notes_is_refused_with_what_to_do(name):
    with refusal(MapError, "use one of standard"):
        tuning_named(name)


@pytest.mark.parametrize(("name", "wrong"), [("40 45 50 x 59 64", "'x'"), ("E A D G banjo E", "'banjo'")])
def test_the_word_that_is_no_string_is_named(name, wrong):
    with refusal(MapError, wrong + " is neither a note nor a number"):
        tuning_named(name)


@pytest.mark.parametrize(("name", "count"), [("E2", 1), ("40 45 50", 3), ("E A D G B E A D G", 9)])
def test_fewer_than_four_strings_and_more_than_eight_are_refused(name, count):
    with refusal(MapError, f"has {count}: name the open strings"):
        tuning_named(name)


def test_strings_that_no_neck_has_are_refused_by_their_word():
    with refusal(MapError, "can be '1'"):
        tuning_named("1 2 3 4 5 6")


# Trade: the open strings of common tunings from the lowest up, middle C being C4.
BY_NOTES = {
    "standard": "E2 A2 D3 G3 B3 E4",
    "drop-d": "D2 A2 D3 G3 B3 E4",
    "half-step-down": "Eb2 Ab2 Db3 Gb3 Bb3 Eb4",
    "whole-step-down": "D2 G2 C3 F3 A3 D4",
    "dadgad": "D2 A2 D3 G3 A3 D4",
    "open-g": "D2 G2 D3 G3 B3 D4",
    "open-d": "D2 A2 D3 F#3 A3 D4",
    "open-e": "E2 B2 E3 G#3 B3 E4",
    "open-a": "E2 A2 E3 A3 C#4 E4",
    "open-c": "C2 G2 C3 G3 C4 E4",
    "double-drop-d": "D2 A2 D3 G3 B3 D4",
    "drop-c": "C2 G2 C3 F3 A3 D4",
    "all-fourths": "E2 A2 D3 G3 C4 F4",
    "baritone": "B1 E2 A2 D3 F#3 B3",
    "seven-string": "B1 E2 A2 D3 G3 B3 E4",
    "seven-string-drop-a": "A1 E2 A2 D3 G3 B3 E4",
    "eight-string": "F#1 B1 E2 A2 D3 G3 B3 E4",
    "bass": "E1 A1 D2 G2",
    "bass-drop-d": "D1 A1 D2 G2",
    "bass-five": "B0 E1 A1 D2 G2",
    "bass-six": "B0 E1 A1 D2 G2 C3",
}


@pytest.mark.parametrize("name", TUNINGS)
def test_the_notes_of_each_tuning_of_the_table_name_it(name):
    """The notes through pitches of our own, the numbers of the table beside them."""
    notes = BY_NOTES[name].split()
    assert tuple(pitch(note).midi for note in reversed(notes)) == TUNINGS[name].open_strings
    assert tuning_named(BY_NOTES[name]) is TUNINGS[name]
    assert tuning_named(" ".join(str(pitch(note).midi) for note in notes)) is TUNINGS[name]


@pytest.mark.parametrize("name", ["Drop D", "drop_d", "  DROP-D ", "Drop  d"])
def test_a_name_may_be_written_with_spaces_and_capitals(name):
    assert tuning_named(name) is TUNINGS["drop-d"]


@pytest.mark.parametrize("name", TUNINGS)
def test_letters_without_octaves_are_taken_near_the_usual_tuning(name):
    """Except that nothing tells the six strings of a bass from those of a guitar."""
    letters = "".join(sign for sign in BY_NOTES[name] if not sign.isdigit())
    found = tuning_named(letters).open_strings
    if name == "bass-six":
        assert [one % 12 for one in found] == [one % 12 for one in TUNINGS[name].open_strings]
    else:
        assert found == TUNINGS[name].open_strings


def test_a_tuning_of_no_name_is_called_by_its_numbers_as_programs_of_before_read_it():
    assert tuning_named("E2 A2 D3 G3 B3 D4").name == "40 45 50 55 59 62"


def test_a_capo_raises_every_string():
    assert STANDARD.raised(2).open_strings == (66, 61, 57, 52, 47, 42)
    assert STANDARD.raised(0) is STANDARD


@pytest.mark.parametrize("tuning", TUNINGS.values(), ids=lambda tuning: tuning.name)
def test_a_tuning_of_the_table_is_told_by_its_key(tuning):
    assert tuning.told.key == f"settings.tuning.{tuning.name}"
    assert tell(tuning.told) == tuning.name


def test_another_tuning_is_told_by_its_notes():
    assert tell(tuning_named("39 45 50 55 59 62").told) == "E♭2 A2 D3 G3 B3 D4"
