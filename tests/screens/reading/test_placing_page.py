"""A new player is placed by a short test, played on whatever is there."""

import pygame
import pytest

from game.screens.routes import ToPlacing
from tests.screens.table import Table


@pytest.fixture
def placing(tmp_path):
    table = Table(tmp_path)
    table.go(ToPlacing())
    assert table.screen_name == "PlacingPage"
    return table


def take_the_test(table, *, wrong=0, find_s=0.5):
    pages = 0
    while table.screen_name == "PlacingPage":
        page = table.screen
        for note in page.take.expected:
            table.clock.advance(find_s)
            table.play(note.sounding + wrong)
        pages += 1
        assert pages < 30
    return pages


def test_who_finds_every_note_at_once_begins_at_a_high_level(placing):
    assert take_the_test(placing) == 14
    assert placing.screen_name == "TodayScreen"
    assert placing.context.settings.line_level >= 6


def test_who_finds_none_begins_at_the_bottom_and_is_spared_the_rest(placing):
    assert take_the_test(placing, wrong=1) == 4
    assert placing.context.settings.line_level == 1


def test_it_can_be_left_and_changes_nothing_then(placing):
    level = placing.context.settings.line_level
    placing.key(pygame.K_ESCAPE)
    assert placing.screen_name == "TodayScreen"
    assert placing.context.settings.line_level == level


def test_nothing_of_it_goes_into_the_log(placing):
    take_the_test(placing)
    with placing.context.session.log.reading() as connection:
        assert connection.execute("SELECT count(*) FROM take").fetchone() == (0,)


def test_it_leads_to_the_plan(table):
    table.go(ToPlacing())
    take_the_test(table, find_s=2.0)
    assert table.screen_name == "TodayScreen"
