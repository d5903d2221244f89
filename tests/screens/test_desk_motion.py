"""Pages turn and slips slide in by the clock; on a still desk the first picture is the last one."""

import pygame
import pytest

from game.desk.kit.page_turn import PAGE_TURN_S
from game.screens.desk_motion import SLIP_S
from game.screens.routes import ToMap, ToProgress
from tests.screens.table import Table
from tests.screens.ways import result_of


@pytest.fixture(autouse=True)
def _pages_are_turned(monkeypatch):
    monkeypatch.setattr(Table, "turns_pages", True)


@pytest.fixture
def table(tmp_path):
    table = Table(tmp_path)
    table.go(ToProgress())
    table.context.window.message = ""
    table.wait(0.1)
    return table


def enter(table):
    table.key(pygame.K_RETURN, "\r")
    table.context.window.message = ""


def pictures_after(table, seconds):
    seen = []
    for second in seconds:
        table.clock.advance(second)
        seen.append(table.picture())
    return seen


def test_the_corner_turns_the_page_within_a_quarter_of_a_second(table):
    enter(table)
    assert table.screen_name == "TodayScreen"
    seen = pictures_after(table, [PAGE_TURN_S / 5] * 4)
    assert len(set(seen)) == 4
    table.clock.advance(PAGE_TURN_S / 4)
    assert table.app.picture.motion.moving(table.screen)
    last = table.picture()
    assert not table.app.picture.motion.moving(table.screen)
    table.app.screen.resized()
    assert table.picture() == last


def test_what_is_seen_depends_on_the_time_alone_and_not_on_the_frames_before(tmp_path):
    seen = []
    for frames in (1, 7):
        table = Table(tmp_path / str(frames))
        table.go(ToProgress())
        table.context.window.message = ""
        enter(table)
        seen.append(pictures_after(table, [0.14 / frames] * frames)[-1])
    assert seen[0] == seen[1]


def test_a_key_during_the_turning_is_answered_at_once_and_ends_it(table):
    enter(table)
    table.clock.advance(0.05)
    table.key(pygame.K_m, "m")
    assert table.screen_name == "MapScreen"
    assert not table.app.picture.motion.moving(table.screen)


def test_a_box_of_the_new_screen_can_be_clicked_from_the_first_moment(table):
    enter(table)
    box = next(box for box, press in table.context.window._boxes if press.key == pygame.K_b)
    table.click(box.center)
    assert table.screen_name == "BookScreen"


def test_a_note_lets_nothing_lie_over_the_music(tmp_path):
    table = Table(tmp_path, guitar=True)
    table.go(result_of(table))
    enter(table)
    assert table.screen.in_take
    assert table.app.picture.motion.moving(table.screen)
    table.play(53)
    assert not table.app.picture.motion.moving(table.screen)


def test_another_way_than_the_corner_turns_no_page(table):
    for way in (lambda: table.go(ToMap()), lambda: table.key(pygame.K_b, "b"), lambda: table.key(pygame.K_ESCAPE)):
        way()
        assert not table.app.picture.motion.moving(table.screen)


def test_the_free_string_turns_the_page_as_the_corner_does(tmp_path):
    table = Table(tmp_path, guitar=True)
    table.go(result_of(table))
    table.play(40, None)
    while table.screen_name == "ResultScreen":
        table.wait(0.05, frame_s=0.05)
    assert table.app.picture.motion.moving(table.screen)


def test_the_sheet_of_all_keys_lies_on_the_whole_screen_where_a_page_was_being_turned(table):
    enter(table)
    table.clock.advance(0.1)
    table.key(pygame.K_F1)
    during = table.picture()
    table.key(pygame.K_F1)
    table.wait(1.0)
    table.key(pygame.K_F1)
    assert table.picture() == during


def test_a_slip_slides_in_once_and_what_is_written_on_it_may_change_meanwhile(table):
    table.context.say("Reading 1 of 500.")
    first, later = pictures_after(table, [0.01, SLIP_S / 2])
    assert first != later
    table.context.say("Reading 2 of 500.")
    table.clock.advance(SLIP_S)
    assert not table.app.picture.motion.moving(table.screen)


def test_a_slip_goes_where_there_is_room_on_what_the_screen_shows_now(table):
    """The positions side by side leave other room than the map."""
    table.go(ToMap())
    table.context.say("20 tunes are on the shelf.")
    table.wait(SLIP_S, frame_s=SLIP_S)
    rooms = [table.app.picture.motion._room]
    for key in (pygame.K_1, pygame.K_ESCAPE):
        table.key(key)
        table.picture()
        rooms.append(table.app.picture.motion._room)
    assert rooms[0] == rooms[2] != rooms[1]


def test_on_a_still_desk_the_first_picture_is_the_last(table):
    table.settle(still_desk=True)
    enter(table)
    first = table.picture()
    table.context.say("Bar 10 waits.")
    slip = table.picture()
    assert not table.app.picture.motion.moving(table.screen)
    assert pictures_after(table, [0.1, 0.4]) == [slip, slip]
    table.context.window.message = ""
    assert table.picture() == first
