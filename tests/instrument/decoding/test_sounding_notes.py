"""The notes that sound now, and how they end."""

import pytest

from game.instrument.decoding.messages import ControlChange, NoteOff, NoteOn, PitchBend
from game.instrument.decoding.played import NoteSettled, NoteStarted, PlayedNote
from game.instrument.decoding.sounding_notes import SILENCE


def begun(*channels_and_pitches):
    notes = SILENCE
    for channel, pitch in channels_and_pitches:
        note = PlayedNote(started_s=0.0, sounding=pitch, place=None)
        notes = notes.begin(NoteStarted(note=note, channel=channel))
    return notes


def pitches(notes):
    return [note.sounding for note in notes.notes]


def test_notes_stand_in_the_order_in_which_they_began():
    assert pitches(begun((1, 60), (2, 55), (1, 64))) == [60, 55, 64]


def test_a_note_ends_by_its_pitch_on_its_channel():
    left, settled = begun((1, 60), (2, 60), (1, 64)).end(channel=1, at_s=3.0, pitch=60)
    assert pitches(left) == [60, 64]
    assert settled == (NoteSettled(note=PlayedNote(started_s=0.0, sounding=60, place=None), channel=1, ended_s=3.0),)


def test_without_a_pitch_all_of_a_channel_ends():
    left, settled = begun((1, 60), (2, 60), (1, 64)).end(channel=1, at_s=3.0)
    assert pitches(left) == [60]
    assert len(settled) == 2


@pytest.mark.parametrize(
    ("message", "left"),
    [
        (NoteOff(1, 60), [64]),
        (NoteOff(1, 61), [60, 64]),
        (ControlChange(1, 123, 0), []),
        (ControlChange(1, 120, 0), []),
        (ControlChange(1, 64, 0), [60, 64]),
        (ControlChange(2, 123, 0), [60, 64]),
        (PitchBend(1, 100), [60, 64]),
        (NoteOn(1, 60, 80), [60, 64]),
    ],
)
def test_note_offs_and_the_messages_that_silence_end_notes_and_no_others_do(message, left):
    """MIDI 1.0: controllers 120 and 123 to 127 silence a channel."""
    assert pitches(begun((1, 60), (1, 64)).end_by(message, at_s=1.0)[0]) == left
