"""What is asked before the map changes, and what it would be then."""

import pytest

from game.music.names import NoteNames
from game.neck.tuning import Place
from game.player.settings import Stretches
from game.screens.routes import ToMap


@pytest.fixture
def changes(table):
    table.go(ToMap())
    return table.screen._changes


def test_without_stretches_is_said_with_the_caution_and_leaves_out_what_needs_one(changes):
    change = changes.stretches()
    assert change.settings.stretches is Stretches.NONE
    assert change.caution
    assert len(change.settings.neck_map().homes) == 24


def test_a_place_becomes_the_home_of_its_pitch_and_the_others_stay(changes):
    before = changes.settings.neck_map().places
    change = changes.move(Place(4, 9), NoteNames.ENGLISH)
    assert change.settings.neck_map().places == before | {59: Place(4, 9)}


def test_where_nothing_was_chosen_there_is_nothing_to_give_up_and_no_question(changes):
    assert changes.plain() is None
    assert not changes.chosen_by_hand


def test_a_change_that_moves_no_note_of_the_shelf_says_that_none_moves(changes):
    change = changes.move(Place(6, 22), NoteNames.ENGLISH)
    assert changes.shelf.counts.counts.get(62)
    assert "notes of your shelf move" in change.told
    assert "No note of your shelf moves." in changes.move(Place(1, 22), NoteNames.ENGLISH).told
