"""A string's note as it was told, and how it goes on."""

from game.instrument.decoding.messages import NoteOn
from game.instrument.decoding.played import NoteRevised, NoteSettled, NoteStarted
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.decoding.voice import SILENT, arrived, begun, settled

SETUP = StringsSetup()


def voice_of(number, at_s, before=SILENT, velocity=80):
    return begun(before, NoteOn(1, number, velocity), number, at_s, SETUP, "pickup")[0]


def test_a_string_that_never_sounded_is_silent_and_follows_nothing():
    assert SILENT.sounding is None
    assert not SILENT.at_once_after(0.0)


def test_a_note_sounds_until_it_ended():
    voice = voice_of(69, 1.0)
    assert voice.sounding == 69
    assert voice.ended(1.4).sounding is None
    assert voice.ended(1.4).gap_s(1.5) > 0.09
    assert voice.gap_s(1.5) == 0


def test_a_note_knows_whether_it_began_as_another_ended_and_about_as_loud():
    before = voice_of(69, 1.0).ended(1.3)
    assert voice_of(71, 1.31, before).legato
    late = voice_of(71, 1.34, before, velocity=90)
    assert (late.legato, late.in_row) == (False, True)
    assert not voice_of(71, 1.34, before, velocity=30).in_row
    assert voice_of(81, 1.3, before).jump


def test_what_arrives_is_told_as_a_revision_with_its_time():
    voice = voice_of(69, 1.0)
    after, (event,) = arrived(voice, voice.told, 71, 1.05, SETUP)
    assert isinstance(event, NoteRevised)
    assert after.told.note.arrived_s is not None
    assert after.changed_s == 1.05


def test_an_octave_put_right_was_so_from_the_pluck_on():
    voice = voice_of(81, 1.0)
    after, _ = arrived(voice, voice.told, 69, 1.09, SETUP)
    assert (after.told.note.arrived_s, after.changed_s, after.jumped_s) == (None, 1.0, 1.09)


def test_an_end_is_told_once():
    voice, (started,) = begun(SILENT, NoteOn(1, 69, 80), 69, 1.0, SETUP, "pickup")
    assert isinstance(started, NoteStarted)
    (end,) = settled(voice, 1.5)
    assert isinstance(end, NoteSettled)
    assert settled(SILENT, 1.5) == ()
