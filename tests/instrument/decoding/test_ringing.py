"""Of notes that ring together a bend moves the one plucked last, and none where nobody can tell which."""

from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.instrument.decoding.ringing import Ringing, bent_by, ended


def ringing(*plucks):
    """Plucks as (on_s, number, channel)."""
    return tuple(
        Ringing(
            NoteStarted(note=PlayedNote(started_s=on_s, sounding=number, place=None), channel=channel), number, on_s
        )
        for on_s, number, channel in plucks
    )


def test_a_bend_moves_the_note_plucked_last_on_its_channel():
    notes = ringing((0.0, 52, 1), (0.5, 60, 1), (0.6, 64, 2))
    assert bent_by(notes, 1) is notes[1]
    assert bent_by(notes, 2) is notes[2]


def test_a_bend_moves_nothing_in_silence_and_none_of_a_chord():
    notes = ringing((0.0, 52, 1), (0.5, 60, 1), (0.53, 64, 1))
    assert bent_by(notes, 2) is None
    assert bent_by(notes, 1) is None


def test_a_note_ends_by_the_number_it_was_told_with_and_a_channel_with_all_its_notes():
    notes = ringing((0.0, 52, 1), (0.5, 60, 1), (0.6, 60, 2))
    assert ended(notes, 1, 60) == ((notes[0], notes[2]), (notes[1],))
    assert ended(notes, 1) == ((notes[2],), notes[:2])
    assert ended(notes, 3, 60) == (notes, ())
