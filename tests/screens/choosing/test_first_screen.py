"""Which screen a start begins with, and what of it is there before the log is open."""

import pytest

from game.player.prepared_sheet import write_prepared
from game.screens.choosing.first_screen import first_screen, never_played
from game.screens.choosing.today_words import today_sheet
from game.text.catalogue import chosen
from tests.screens.table import Table


@pytest.fixture
def played(tmp_path):
    table = Table(tmp_path)
    table.open("F4 q, G4 q, A4 h")
    table.play_through()
    assert table.context.session.log.flush()
    return table


def prepare(table, *days):
    session = table.context.session
    sheet = today_sheet(table.context)
    write_prepared(session.folder, dict.fromkeys(days, sheet), session.settings, chosen().language)
    return sheet


def test_nothing_kept_means_the_first_note(tmp_path):
    table = Table(tmp_path / "none")
    assert type(first_screen(table.context)).__name__ == "FirstStartScreen"
    assert never_played(table.context)


def test_what_was_prepared_for_this_day_is_all_of_today(played):
    sheet = prepare(played, played.context.session.today())
    screen = first_screen(played.context)
    assert screen.sheet == sheet
    played.app.screen = screen
    before = played.picture()
    screen.read_anew()
    assert played.picture() == before


def test_of_another_day_the_ink_holds_and_no_step_is_promised(played):
    sheet = prepare(played, played.context.session.today())
    played.day += 12
    shown = first_screen(played.context).sheet
    assert shown.ink == sheet.ink
    assert shown.rows == ()
    assert shown.minutes == "20 minutes"


def test_without_anything_prepared_there_is_the_frame_of_today(played):
    screen = first_screen(played.context)
    assert type(screen).__name__ == "TodayScreen"
    assert (screen.sheet.rows, screen.sheet.ink) == ((), None)
    played.app.screen = screen
    played.app.draw()


def test_who_has_played_is_no_newcomer_and_nor_is_who_has_a_map_of_their_own(played, tmp_path):
    assert not never_played(played.context)
    other = Table(tmp_path / "other")
    other.settle(position=7)
    assert not never_played(other.context)
