import pytest

from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.listening.listener import Listener
from game.instrument.listening.whole_recording import notes_in_the_end
from tests.instrument.listening.plucked import RATE, line


def told(telling, number, pitch, started_s=0.0):
    note = HeardNote(number=number, started_s=started_s, pitch=pitch, level_db=-20, clarity=0.9)
    return Told(telling=telling, note=note, at_s=1.0)


def test_a_line_is_heard_as_it_was_played():
    notes = [(0.2, 57), (0.5, 60), (0.8, 64), (1.1, 64), (1.4, 52)]
    listener = Listener(RATE)
    heard = notes_in_the_end((*listener.feed(line(notes)), *listener.finish()))
    assert [round(note.pitch) for note in heard] == [pitch for _, pitch in notes]
    assert [note.started_s for note in heard] == pytest.approx([onset_s for onset_s, _ in notes], abs=0.005)


def test_notes_are_what_they_were_last_told_as_and_none_that_was_withdrawn():
    story = (
        told(Telling.STARTED, 1, 50.0, 0.5),
        told(Telling.STARTED, 2, 60.0, 0.1),
        told(Telling.REVISED, 1, 62.0, 0.5),
        told(Telling.STARTED, 3, 70.0),
        told(Telling.WITHDRAWN, 3, 70.0),
        told(Telling.ENDED, 3, 70.0),
    )
    assert [(note.number, note.pitch) for note in notes_in_the_end(story)] == [(2, 60.0), (1, 62.0)]
