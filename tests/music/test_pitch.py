"""Spelled pitches."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.music.pitch import STEPS, Pitch, frequency_hz, pitch

pitches = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-2, 2), st.integers(-1, 9))


def test_middle_c_is_midi_60_and_octave_4_starts_there():
    """MIDI 1.0; MusicXML 4.0 `octave`."""
    assert pitch("C4").midi == 60
    assert pitch("B3").midi == 59


def test_a4_is_440_hz():
    """ISO 16:1975; MIDI 1.0."""
    assert pitch("A4").midi == 69
    assert frequency_hz(69) == 440.0


@pytest.mark.parametrize(
    ("midi", "hertz"),
    [(40, 82.407), (45, 110.0), (50, 146.832), (55, 195.998), (59, 246.942), (64, 329.628)],
)
def test_open_strings_sound_at_their_frequencies(midi, hertz):
    """Standard tuning (trade), calculated from ISO 16."""
    assert frequency_hz(midi) == pytest.approx(hertz, abs=0.0005)


def test_enharmonic_spellings_sound_alike_and_stay_different():
    assert pitch("F#4").midi == pitch("Gb4").midi == 66
    assert pitch("F#4") != pitch("Gb4")
    assert pitch("B#3").midi == pitch("C4").midi
    assert pitch("Cb5").midi == pitch("B4").midi


def test_the_middle_line_of_the_treble_staff_is_four_steps_above_the_lowest():
    """B4 on the middle line (trade)."""
    assert pitch("B4").staff_step - pitch("E4").staff_step == 4


@given(pitches)
def test_a_name_is_read_back_as_the_same_pitch(written):
    assert pitch(written.name) == written


@given(pitches)
def test_pitches_agree_with_music21(written):
    """music21 as the reference library."""
    from music21.pitch import Pitch as Reference

    reference = Reference(written.step, octave=written.octave)
    reference.accidental = written.alter or None
    assert written.midi == reference.ps
    assert written.staff_step == reference.diatonicNoteNum - 1


@pytest.mark.parametrize("name", ["H4", "F#b4", "F", "f4", "C###4", ""])
def test_a_name_that_is_none_is_refused(name):
    with pytest.raises(ValueError, match="not the name of a pitch"):
        pitch(name)


def test_a_triple_sharp_is_refused():
    with pytest.raises(ValueError, match="no such pitch"):
        Pitch("C", 3, 4)
