"""A whole recording decoded at once."""

from game.instrument.decoding.decoded import DecodedNotes, decode_all, dirt_told
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.instrument_state import KeyboardSetup
from game.instrument.decoding.played import NoteFiltered, NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.text.catalogue import tell
from tests.instrument.messages_of import off, on, stamped

SETUP = StringsSetup()
FIRST = PlayedNote(started_s=1.0, sounding=69, place=None)
SECOND = PlayedNote(started_s=1.0, sounding=71, place=None)


def test_notes_come_in_order_of_time_as_they_turned_out():
    messages = stamped([on(1.0, 69), on(1.05, 71), off(1.4, 71), on(2.0, 59, channel=2), off(2.4, 59, channel=2)])
    assert [note.sounding for note in decode_all(messages, SETUP).notes] == [71, 59]


def test_the_last_notes_are_ended_with_the_recording():
    """A note of 20 ms at the very end is too short to tell, and counts."""
    assert [note.sounding for note in decode_all(stamped([on(1.0, 69), on(1.02, 59, channel=2)]), SETUP).notes] == [
        69,
        59,
    ]


def test_a_revision_takes_the_place_of_what_was_told():
    whole = DecodedNotes()
    whole.take(NoteStarted(note=FIRST, channel=1))
    whole.take(NoteRevised(before=FIRST, after=SECOND, channel=1))
    assert whole.notes == (SECOND,)
    whole.take(NoteRevised(before=SECOND, after=None, channel=1, dirt=Dirt.SHORT))
    assert whole.notes == ()
    assert whole.dirt == {Dirt.SHORT: 1}


def test_what_was_told_is_counted_dirt_and_all():
    whole = DecodedNotes()
    whole.take(NoteStarted(note=FIRST, channel=1))
    whole.take(NoteFiltered(note=SECOND, channel=1, dirt=Dirt.SOFT))
    assert (whole.count, whole.dirt) == (2, {Dirt.SOFT: 1})


def test_the_same_pitch_at_once_on_two_channels_is_two_notes():
    whole = decode_all(stamped([on(1.0, 60), on(1.0, 60, channel=2)]), KeyboardSetup())
    assert len(whole.notes) == 2


def test_more_notes_than_asked_for_break_it_off():
    messages = stamped([on(float(at), 60) for at in range(50)])
    assert decode_all(messages, KeyboardSetup(), most=10).count == 11


def test_dirt_is_said_by_its_kinds_and_nothing_where_there_was_none():
    told = dirt_told({Dirt.SHORT: 3, Dirt.CROSS_TALK: 1, Dirt.SOFT: 0})
    assert [tell(kind) for kind in told] == ["3 too short", "1 cross-talk"]
    assert dirt_told({}) == ()
