from dataclasses import replace

import pytest

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteRevised, NoteSettled, NoteStarted
from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.listening.note_events import HeardStream, note_events, velocity_of

STREAM = HeardStream(began_s=100.0, delay_s=0.02, source="Interface")
HEARD = HeardNote(number=1, started_s=1.0, pitch=63.8, level_db=-20.0, clarity=0.95)


def told(telling, at_s, **changes):
    return Told(telling=telling, note=replace(HEARD, **changes), at_s=at_s)


def test_a_note_starts_at_its_time_on_the_clock_with_the_delay_taken_out():
    _, (event,) = note_events(STREAM, [told(Telling.STARTED, 1.04)])
    assert isinstance(event, NoteStarted)
    assert event.note.started_s == pytest.approx(100.98)
    assert (event.note.sounding, event.note.place, event.note.source, event.note.sure) == (64, None, "Interface", True)


def test_a_new_pitch_revises_and_the_end_settles_what_was_told_last():
    stream, (started,) = note_events(STREAM, [told(Telling.STARTED, 1.04)])
    stream, (revised,) = note_events(stream, [told(Telling.REVISED, 1.06, pitch=52.0)])
    stream, events = note_events(stream, [told(Telling.SETTLED, 1.1, pitch=52.0), told(Telling.ENDED, 1.5, pitch=52.0)])
    assert isinstance(revised, NoteRevised)
    assert (revised.before, revised.after.sounding) == (started.note, 52)
    assert events == (NoteSettled(note=revised.after, channel=1, ended_s=pytest.approx(101.48)),)
    assert stream == STREAM


def test_settling_tells_only_what_changes():
    stream, _ = note_events(STREAM, [told(Telling.STARTED, 1.04, sure=False)])
    _, (revised,) = note_events(stream, [told(Telling.SETTLED, 1.1)])
    assert revised.after.sure
    assert not revised.before.sure


def test_what_is_withdrawn_was_played_by_nobody():
    stream, _ = note_events(STREAM, [told(Telling.STARTED, 1.04)])
    stream, (revised,) = note_events(stream, [told(Telling.WITHDRAWN, 1.06)])
    assert (revised.after, revised.dirt) == (None, Dirt.SHORT)
    assert note_events(stream, [told(Telling.ENDED, 1.1)])[1] == ()


def test_what_is_told_of_a_note_that_never_started_is_passed_over():
    assert note_events(STREAM, [told(Telling.REVISED, 1.0), told(Telling.ENDED, 1.1)]) == (STREAM, ())


@pytest.mark.parametrize(("level_db", "velocity"), [(0.0, 127), (-12.04, 64), (-100.0, 1), (20.0, 127)])
def test_velocities_follow_the_curve_of_general_midi(level_db, velocity):
    """Half the velocity is 12 dB less (General MIDI 2, 40 log10)."""
    assert velocity_of(level_db) == velocity
