"""Notes of a watch: what each was when it came, and what it turned out to be."""

import pytest

from game.commands.watched_notes import WatchedNotes
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteFiltered, NoteRevised, NoteStarted, OffNeck, PlayedNote
from game.neck.tuning import Place


def note(at_s, sounding=52, place=None):
    return PlayedNote(started_s=at_s, sounding=sounding, place=place or Place(5, 7), velocity=90, source="guitar")


@pytest.fixture
def notes():
    return WatchedNotes(100.0, most=3)


def begun(notes, played):
    return notes.started(NoteStarted(note=played, channel=5), delay_s=0.012, bend=40)


def test_a_note_is_told_with_time_place_and_what_was_taken_out(notes):
    told = begun(notes, note(100.5))
    assert (told.time_ms, told.delay_ms, told.bend, told.channel) == (512.0, 12.0, 40, 5)
    assert (told.string, told.fret, told.sounding, told.velocity, told.device) == (5, 7, 52, 90, "guitar")
    assert (told.off_neck, told.filter, told.became) == (None, None, None)
    assert notes.notes() == [told]


def test_a_note_off_the_neck_has_no_place_and_says_why(notes):
    nowhere = PlayedNote(started_s=100.0, sounding=39, place=None)
    told = notes.started(NoteStarted(note=nowhere, channel=6, off_neck=OffNeck.BELOW_STRING), delay_s=0.0, bend=0)
    assert (told.string, told.fret, told.off_neck) == (None, None, OffNeck.BELOW_STRING)


def test_what_a_note_became_stands_with_it_and_may_go_on(notes):
    first, second, third = note(100.0), note(100.0, 54, Place(5, 9)), note(100.0, 55, Place(5, 10))
    begun(notes, first)
    notes.revised(NoteRevised(before=first, after=second, channel=5))
    told = notes.revised(NoteRevised(before=second, after=third, channel=5))
    assert (told.became.sounding, told.became.string, told.became.fret) == (55, 5, 10)
    assert notes.notes() == [told]


def test_a_note_that_turns_out_to_be_dirt_stays_with_its_reason(notes):
    begun(notes, note(100.0))
    told = notes.revised(NoteRevised(before=note(100.0), after=None, channel=5, dirt=Dirt.SHORT))
    assert told.filter is Dirt.SHORT
    assert notes.filtered() == []


def test_dirt_from_the_first_is_kept_apart(notes):
    told = notes.filtered_out(NoteFiltered(note=note(101.0), channel=5, dirt=Dirt.SOFT))
    assert (told.time_ms, told.filter) == (1000.0, Dirt.SOFT)
    assert (notes.notes(), notes.filtered()) == ([], [told])


def test_only_the_last_are_kept_and_what_is_gone_is_revised_no_more(notes):
    for number in range(5):
        begun(notes, note(100.0 + number))
    assert [told.time_ms for told in notes.notes()] == [2012.0, 3012.0, 4012.0]
    assert notes.revised(NoteRevised(before=note(100.0), after=None, channel=5, dirt=Dirt.SHORT)) is None
