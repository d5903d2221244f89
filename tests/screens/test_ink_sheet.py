"""The ink of the map that is set: what was met is pencil with its name."""

import pytest

from game.desk.kit.note_fill import Fill
from game.music.names import NoteNames
from game.neck.tuning import TUNINGS
from game.screens.ink_sheet import ink_sheet
from tests.screens.table import Table

MAPS = [(tuning, position) for tuning in TUNINGS for position in (1, 5, 9, 12, 19)]


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


def read(table, *rows, key=0):
    table.open(*rows, key=key)
    table.play_through()


def test_before_anything_is_played_every_place_is_empty_and_no_note_has_an_accidental(table):
    sheet = ink_sheet(table.context)
    assert {place.fill for place in sheet.places} == {Fill.EMPTY}
    assert len(sheet.places) == 30
    assert not [note for note in sheet.notes if "b" in note.written or "#" in note.written]
    assert (sheet.in_ink, sheet.in_pencil, sheet.not_met) == ("0 in ink", "0 in pencil", "30 not met yet")


def test_what_was_met_is_pencil_with_its_name_on_staff_and_neck(table):
    read(table, "F4 q, G4 q, Bb4 h", key=-1)
    sheet = ink_sheet(table.context)
    assert {note.written for note in sheet.notes if note.fill is Fill.PENCIL} == {"F4", "G4", "Bb4"}
    assert {place.letters for place in sheet.places if place.fill is Fill.PENCIL} == {"F", "G", "B♭"}
    assert sheet.in_pencil == "3 in pencil"


def test_notes_are_called_as_their_player_calls_them(table):
    read(table, "F4 q, Bb4 h", key=-1)
    table.settle(note_names=NoteNames.GERMAN)
    assert {place.letters for place in ink_sheet(table.context).places if place.letters} == {"F", "B"}
