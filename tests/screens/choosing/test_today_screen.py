"""Today is the plan, and true: followed with one key, in whatever order one likes, and nothing in it must be done."""

import itertools

import msgspec
import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.practice.take_request import request_for
from game.screens.choosing.today_sheet import RowState
from game.screens.keys_sheet import keys_of
from game.screens.routes import ToPage, ToToday
from game.text.catalogue import catalogue_in, choose
from game.tunes.library.library import open_entry, shelf
from tests.sampling import sample
from tests.screens.drawn_text import DrawnText
from tests.screens.table import Table
from tests.screens.told_keys import told_keys


@pytest.fixture
def today(tmp_path):
    """A player who was placed above the beginners: those begin with five notes."""
    table = Table(tmp_path)
    table.context.change_settings(msgspec.structs.replace(table.context.settings, line_level=3))
    table.key(pygame.K_t)
    return table


def plan_of(table):
    return table.context.session.plan


def states(table):
    return [row.state for row in table.screen.sheet.rows]


def box_of(table, key):
    return next(box for box, press in table.context.window._boxes if press.key == key)


def middle_of_row(table, index):
    place = next(place for place in table.screen._drawing.rows if place.index == index)
    unit = table.context.sheet.unit
    return 300 * unit, (place.top + place.height / 2) * unit


def test_a_new_player_has_a_plan_in_the_order_of_the_house(today):
    assert today.screen_name == "TodayScreen"
    kinds = [step.kind for step in plan_of(today).progress.steps]
    assert kinds[:2] == [StepKind.WARM_UP, StepKind.FIRST_SIGHT]
    assert StepKind.NEW_TUNE in kinds
    assert sum(step.minutes for step in plan_of(today).progress.steps) == 20


def test_everything_can_be_skipped_and_then_enter_leads_to_the_end(today):
    for _ in range(len(plan_of(today).progress.steps)):
        today.key(pygame.K_BACKSPACE)
    assert plan_of(today).step is None
    assert set(states(today)) == {RowState.SKIPPED}
    today.key(pygame.K_RETURN)
    assert today.screen_name == "GoodNightScreen"


def test_what_was_skipped_can_be_begun_all_the_same(today):
    today.key(pygame.K_BACKSPACE)
    assert today.screen.chosen == 1
    today.key(pygame.K_UP)
    today.key(pygame.K_RETURN)
    assert today.screen.request.planned
    assert plan_of(today).step.kind is StepKind.WARM_UP


def test_escape_leads_to_good_night_and_enter_there_back_to_the_plan_as_it_was(today):
    today.key(pygame.K_BACKSPACE)
    standing = plan_of(today).step
    today.key(pygame.K_ESCAPE)
    assert today.screen_name == "GoodNightScreen"
    today.key(pygame.K_RETURN)
    assert today.screen_name == "TodayScreen"
    assert plan_of(today).step == standing


def test_more_or_fewer_minutes_make_another_plan_by_key_and_by_click(today):
    today.key(pygame.K_LEFT)
    today.click(box_of(today, pygame.K_LEFT).center)
    assert today.context.settings.plan_minutes == 10
    assert sum(step.minutes for step in plan_of(today).progress.steps) == 10
    for _ in range(18):
        today.key(pygame.K_RIGHT)
    assert today.context.settings.plan_minutes == 90
    assert any(step.kind is StepKind.REST for step in plan_of(today).progress.steps)


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
@pytest.mark.parametrize("minutes", sample([5, 20, 60, 90], by_default=1))
def test_rows_are_in_sight_apart_and_above_the_foot_and_the_chosen_one_is_among_them(tmp_path, size, minutes):
    today = Table(tmp_path, size=size)
    today.settle(plan_minutes=minutes)
    today.go(ToToday())
    for _ in today.screen.sheet.rows:
        rows = today.screen._drawing.rows
        assert today.screen.chosen in {row.index for row in rows}
        assert all(above.top + above.height <= below.top + 1e-6 for above, below in itertools.pairwise(rows))
        assert rows[-1].top + rows[-1].height <= today.screen._drawing._remark_top - 34
        assert all(row.height >= 36 for row in rows)
        today.key(pygame.K_DOWN)


def test_a_click_chooses_and_a_double_click_begins(today):
    at = middle_of_row(today, 2)
    today.click(at)
    assert today.screen.chosen == 2
    today.wait(1.0)
    today.click(at)
    assert today.screen_name == "TodayScreen", "two clicks far apart are no double click"
    today.click(at)
    assert today.screen.request.planned
    assert plan_of(today).step.kind is StepKind.SLOW_NOTES


def test_out_of_a_step_esc_leads_to_today_where_its_time_stands_still(today):
    today.settle(plan_minutes=60)
    plan_of(today).replan()
    plan_of(today).finish_step()
    today.go(ToToday())
    minutes = plan_of(today).step.minutes
    today.key(pygame.K_RETURN)
    today.wait(125.0, frame_s=5.0)
    today.key(pygame.K_ESCAPE)
    today.go(ToToday())
    row = today.screen.sheet.rows[1]
    assert (row.state, row.minutes, row.corner) == (RowState.BEGUN, f"{minutes - 2} min left", "Go on")
    today.wait(600.0, frame_s=20.0)
    assert plan_of(today).minutes_left == minutes - 2


def test_a_rest_is_begun_and_ended_and_counts_as_one(today):
    today.settle(plan_minutes=90)
    plan_of(today).replan()
    today.go(ToToday())
    while plan_of(today).step.kind is not StepKind.REST:
        plan_of(today).begin_step()
        today.clock.advance(600)
        plan_of(today).finish_step()
    today.go(ToToday())
    at = plan_of(today).progress.at
    assert "see a clinician" in today.screen.sheet.rows[at].advice
    today.key(pygame.K_RETURN)
    assert today.screen.sheet.rows[at].corner == "Rested"
    today.clock.advance(240)
    today.key(pygame.K_RETURN)
    assert plan_of(today).progress.practised[at] == pytest.approx(4.0, abs=0.1)
    assert plan_of(today).progress.stretch == 0


def test_the_guitar_alone_begins_and_goes_to_the_end(today):
    today.pluck_free_string(1)
    assert today.screen.request.planned
    today.go(ToToday())
    today.pluck_free_string(2)
    assert today.screen_name == "GoodNightScreen"
    today.pluck_free_string(1)
    assert today.screen_name == "TodayScreen"


def reader(table, tunes=2):
    """Somebody who has met enough notes for an unseen line."""
    for entry in shelf()[:tunes]:
        table.context.session.log.facts.open_tune(entry.name)
        table.go(ToPage(request_for(open_entry(entry), table.context.settings.neck_map()), chosen=True))
        table.play_through()
    table.context.session.log.flush()
    table.day += 1
    table.go(ToToday())


def test_the_unseen_line_lies_there_once_seven_notes_are_met_and_is_turned_by_f_or_a_click(tmp_path):
    today = Table(tmp_path)
    today.go(ToToday())
    assert today.screen.sheet.unseen is None
    today.key(pygame.K_f, "f")
    assert today.screen_name == "TodayScreen"
    reader(today)
    assert today.screen.sheet.unseen == ("An unseen line", "face down: counts once")
    today.click(box_of(today, pygame.K_f).center)
    assert today.screen.request.stage is Stage.SIGHT
    assert today.screen.request.fresh


def test_after_the_line_of_the_plan_another_may_be_taken(today):
    reader(today)
    while plan_of(today).step is not None:
        plan_of(today).finish_step(skipped=True)
    today.go(ToToday())
    today.key(pygame.K_f, "f")
    assert today.screen.request.stage is Stage.SIGHT
    assert not today.screen.request.planned


def test_staff_and_neck_lead_to_the_map_where_they_are_clicked(today):
    today.click((900 * today.context.sheet.unit, 400 * today.context.sheet.unit))
    assert today.screen_name == "MapScreen"


def test_at_midnight_the_page_is_that_of_the_new_day(today):
    reader(today)
    before = today.screen.sheet.day
    today.day += 1
    today.wait(0.1)
    assert today.screen.sheet.day != before


@pytest.mark.parametrize("language", sample(["en", "de"], by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_the_way_to_good_night_and_every_other_key_of_the_foot_is_shown(tmp_path, language, size):
    choose(catalogue_in(language))
    table = Table(tmp_path, size=size)
    table.go(ToToday())
    for key in (pygame.K_ESCAPE, pygame.K_BACKSPACE, pygame.K_k):
        assert box_of(table, key)


def test_with_a_guitar_in_hand_foot_and_sheet_of_keys_tell_what_the_free_string_does(tmp_path, monkeypatch):
    table = Table(tmp_path, guitar=True)
    drawn = DrawnText(monkeypatch)
    table.go(ToToday())
    assert {"the open sixth string", "as Enter; twice as Esc"} <= set(drawn.whole)
    assert told_keys(keys_of(table.context))["the open sixth string"] == "as Enter; twice as Esc"
    today = Table(tmp_path / "other")
    today.go(ToToday())
    assert "the open sixth string" not in told_keys(keys_of(today.context))
