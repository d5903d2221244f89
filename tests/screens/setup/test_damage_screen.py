"""A log that is damaged is said at the start, with the ways to put it right."""

import os
import time
from datetime import date
from pathlib import Path

import pygame
import pytest

from game.player.profiles import LOG_FILE
from game.practice_log.back_ups.automatic import make_back_up
from game.practice_log.back_ups.backup import checked_take_count
from game.screens.routes import ToDamage
from tests.practice_log.transfer.damaged_files import cut_off, first_page_of, flip
from tests.practice_log.transfer.hostile_files import log_of, planted
from tests.screens.table import Table

DAY = date(2026, 11, 23)
ENOUGH_S = 60.0


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log of five takes, three of them in the back-up of the day before."""
    path = log_of(tmp_path / LOG_FILE, 3)
    make_back_up(path, DAY)
    path.unlink()
    return log_of(path, 5)


def opened(log: Path) -> Table:
    table = Table(log.parent)
    table.go(ToDamage())
    return table


def wait_for_the_log(table: Table) -> None:
    """Until it was put right, or could not be."""
    until_s = time.monotonic() + ENOUGH_S
    while table.screen_name == "DamageScreen" and table.screen_undrawn.moving and time.monotonic() < until_s:
        time.sleep(0.05)
        table.wait(0.05)


def take_way(table: Table, number: int) -> None:
    """Choose a way and take it."""
    for _ in range(number):
        table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)


def said(table: Table) -> str:
    return " ".join(table.screen.sentences)


def words(table: Table) -> list[str]:
    return [way.words for way in table.screen.ways]


def test_where_nothing_is_wrong_the_shelf_stands_there(log: Path):
    assert opened(log).screen_name == "ShelfScreen"


def test_what_is_wrong_is_said_with_the_back_up_there_is(log: Path):
    table = opened(flip(log, first_page_of(log, "take_by_day")))
    assert said(table).startswith("The practice log is damaged.")
    assert words(table) == [
        "Take the back-up of 23 November 2026, with 3 takes, and add what can be read of the damaged log",
        "Take only what can be read of the damaged log",
        "Begin a new log",
    ]


def test_the_back_up_and_what_can_be_read_put_the_log_right_and_the_game_goes_on_with_it(log: Path):
    table = opened(flip(log, first_page_of(log, "take_by_day")))
    take_way(table, 0)
    wait_for_the_log(table)
    assert table.screen_name == "TodayScreen"
    assert table.context.window.message.startswith("The log is in order, with 5 takes.")
    assert table.context.session.log.trouble is None
    assert table.context.session.log.flush()
    assert checked_take_count(log) == 5
    (kept,) = log.parent.glob("practice-damaged-*.sqlite")
    assert kept.name in table.context.window.message


def test_only_what_can_be_read(log: Path):
    table = opened(planted(log, "CREATE VIEW planted AS SELECT 1"))
    assert "planted" in said(table)
    take_way(table, 1)
    wait_for_the_log(table)
    assert "with 5 takes" in table.context.window.message


def test_where_nothing_can_be_read_that_is_said_and_the_screen_stays(log: Path):
    table = opened(cut_off(log, 3000))
    take_way(table, 1)
    wait_for_the_log(table)
    assert table.screen_name == "DamageScreen"
    assert "can be read" in table.context.window.message
    assert len(log.read_bytes()) == 3000
    take_way(table, 0)
    wait_for_the_log(table)
    assert checked_take_count(log) == 3


def test_a_new_log_is_begun_beside_what_is_no_log(log: Path):
    log.write_bytes(b"nonsense" * 1000)
    table = opened(log)
    assert len(words(table)) == 2
    take_way(table, 1)
    wait_for_the_log(table)
    assert table.screen_name == "TodayScreen"
    assert checked_take_count(log) == 0


def test_going_on_without_it_is_said_and_changes_nothing(log: Path):
    before = flip(log, 5).read_bytes()
    table = opened(log)
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"
    assert table.context.window.message == ("The practice log is damaged; until then practice is kept in memory only.")
    assert log.read_bytes() == before


def test_takes_that_only_the_back_up_holds_are_added_or_left(log: Path):
    log.unlink()
    log_of(log, 1)
    table = opened(log)
    assert said(table) == "The practice log lacks 2 takes that the back-up of 23 November 2026 holds."
    assert len(words(table)) == 1
    table.key(pygame.K_ESCAPE)
    assert table.context.session.log.trouble is None
    table.context.session.close()
    assert opened(log).screen_name == "ShelfScreen"


def test_a_pipe_in_the_place_of_the_log_is_not_waited_for(log: Path):
    log.unlink()
    os.mkfifo(log)
    assert "no file" in said(opened(log))


def test_a_click_chooses_a_way_and_the_corner_takes_it(log: Path):
    table = opened(flip(log, first_page_of(log, "take_by_day")))
    for number in (2, 0, 1):
        top, bottom = table.screen._way_ends[number]
        table.click((300, (top + bottom) / 2))
        assert table.screen.chosen == number
    corner = next(box for box, press in table.context.window._boxes if press.key == pygame.K_RETURN)
    table.click(corner.center)
    wait_for_the_log(table)
    assert table.screen_name == "TodayScreen"
