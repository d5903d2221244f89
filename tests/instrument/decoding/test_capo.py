"""What sounds behind a capo comes in as it was fingered from it."""

import pytest

from game.instrument.decoding.capo import as_fingered, note_as_fingered
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import (
    NoteFiltered,
    NoteRevised,
    NoteSettled,
    NoteStarted,
    OffNeck,
    PedalPressed,
    PlayedNote,
)
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import STANDARD, Place

NOTE = PlayedNote(started_s=1.0, sounding=47, place=Place(6, 5), velocity=70, source="pickup")
LOWER = PlayedNote(started_s=1.0, sounding=45, place=Place(6, 5), velocity=70, source="pickup")


@pytest.mark.parametrize(
    ("event", "expected"),
    [
        (NoteStarted(note=NOTE, channel=6), NoteStarted(note=LOWER, channel=6)),
        (NoteSettled(note=NOTE, channel=6, ended_s=2), NoteSettled(note=LOWER, channel=6, ended_s=2)),
        (
            NoteFiltered(note=NOTE, channel=6, dirt=Dirt.SHORT),
            NoteFiltered(note=LOWER, channel=6, dirt=Dirt.SHORT),
        ),
        (NoteRevised(before=NOTE, after=None, channel=6), NoteRevised(before=LOWER, after=None, channel=6)),
        (NoteRevised(before=NOTE, after=NOTE, channel=6), NoteRevised(before=LOWER, after=LOWER, channel=6)),
        (PedalPressed(1.0), PedalPressed(1.0)),
    ],
)
def test_a_capo_at_fret_2_takes_every_note_down_by_a_whole_tone(event, expected):
    assert as_fingered(event, 2) == expected
    assert as_fingered(event, 0) is event


def test_no_note_falls_below_the_lowest_of_midi():
    assert note_as_fingered(PlayedNote(started_s=0, sounding=3, place=None), 11).sounding == 0


def test_frets_are_counted_from_the_capo_and_below_it_there_are_none():
    """Behind a capo at II the open low string sounds F sharp (trade)."""
    setup = StringsSetup(tuning=STANDARD.raised(2), frets=20)
    assert setup.placed(6, 42) == (Place(6, 0), None)
    assert setup.placed(6, 47) == (Place(6, 5), None)
    assert setup.placed(6, 41) == (None, OffNeck.BELOW_STRING)
    assert setup.placed(6, 63) == (None, OffNeck.BEYOND_FRETS)
