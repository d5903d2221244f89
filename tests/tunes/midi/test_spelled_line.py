"""Sounding numbers spelled as a musician writes them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP, STEPS
from game.tunes.midi.spelled_line import guessed_key, spelled_line
from tests.tunes.made_midi import midi_score

SPELLINGS = [
    ("C", [48, 49, 50], "C C# D"),
    ("C", [50, 49, 48], "D Db C"),
    ("C", [55, 54, 55], "G F# G"),
    ("Bb", [58, 57, 56, 55], "Bb A Ab G"),
    ("F", [53, 54, 55], "F F# G"),
    ("Am", [57, 56, 57], "A G# A"),
    ("Am", [52, 54, 56, 57], "E F# G# A"),
    ("Dm", [50, 49, 50], "D C# D"),
    ("Cm", [60, 59, 57, 55], "C B A G"),
    ("E", [52, 53, 54], "E F F#"),
    ("Gb", [59, 58], "Cb Bb"),
    ("D", [53, 52], "F E"),
]


@pytest.mark.parametrize(("key", "numbers", "names"), SPELLINGS)
def test_notes_are_spelled_by_key_and_direction(key, numbers, names):
    """Common practice (trade): raised going up, lowered going down, the minor's own sixth and seventh."""
    score = midi_score([(at, 1, midi) for at, midi in enumerate(numbers)], keys=[(0, key)])
    assert " ".join(note.pitch.name.rstrip("0123456789") for bar in score.bars for note in bar.notes) == names


KEYS = [Key(fifths, minor=minor) for fifths in range(-7, 8) for minor in (False, True)]


@given(st.lists(st.integers(40, 90), min_size=1, max_size=20), st.sampled_from(KEYS))
def test_whatever_the_key_each_pitch_sounds_as_its_number_with_one_sign_at_most(numbers, key):
    pitches = spelled_line(numbers, [key] * len(numbers))
    assert [pitch.midi for pitch in pitches] == numbers
    assert all(abs(pitch.alter) <= 1 for pitch in pitches)


@given(st.sampled_from(KEYS), st.integers(45, 60))
def test_the_scale_of_a_key_is_spelled_as_its_signature_has_it(key, lowest):
    inside = {(SEMITONES_OF_STEP[step] + key.alter_of(step)) % 12 for step in STEPS}
    numbers = [number for number in range(lowest, lowest + 13) if number % 12 in inside]
    assert all(pitch.alter == key.alter_of(pitch.step) for pitch in spelled_line(numbers, [key] * len(numbers)))


@pytest.mark.parametrize("fifths", range(-6, 7))
def test_a_major_scale_that_ends_on_its_tonic_is_in_that_key(fifths: int):
    """Seven semitones up for each fifth; of six sharps and six flats either will do."""
    tonic = 60 + 7 * fifths % 12
    scale = [tonic + step for step in (0, 2, 4, 5, 7, 9, 11, 12)]
    guessed = guessed_key(scale, [1.0] * 8)
    assert guessed == Key(fifths) or {abs(guessed.fifths), abs(fifths)} == {6}


def test_a_minor_line_with_its_leading_tone_is_minor():
    assert guessed_key([57, 59, 60, 62, 64, 65, 68, 69], [1.0] * 8) == Key(0, minor=True)


def test_no_notes_are_in_c_major():
    assert guessed_key([], []) == Key()
