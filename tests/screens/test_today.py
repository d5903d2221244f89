"""Today's plan is made from what the log knows, followed with one key, and nothing in it must be done."""

import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.player.player_plan import comparable_level
from game.screens.routes import ToToday
from tests.screens.table import Table


@pytest.fixture
def today(tmp_path):
    table = Table(tmp_path)
    table.key(pygame.K_t)
    return table


def read(table, seconds=0.3):
    """Play the page that is open from its first note to its last."""
    page = table.screen
    if getattr(page, "covered", False):
        table.key(pygame.K_SPACE)
    for note in page.take.expected:
        table.play(note.sounding)
        table.wait(seconds, frame_s=0.1)
    table.wait(3.0, frame_s=0.1)
    assert table.screen_name == "ResultScreen"


def test_a_new_player_has_a_plan_in_the_order_of_the_house(today):
    assert today.screen_name == "TodayScreen"
    kinds = [step.kind for step in today.context.session.plan.progress.steps]
    assert kinds[:2] == [StepKind.WARM_UP, StepKind.FIRST_SIGHT]
    assert StepKind.NEW_TUNE in kinds
    assert sum(step.minutes for step in today.context.session.plan.progress.steps) == 20


def test_enter_begins_a_step_and_its_music_goes_on_until_its_minutes_are_over(today):
    today.key(pygame.K_RETURN)
    assert today.screen.request.planned
    assert today.screen.request.stage is Stage.PLACES
    first = today.screen.request.passage
    read(today)
    today.key(pygame.K_RETURN)
    assert today.screen_name == "PlacesPage"
    assert today.screen.request.passage != first
    today.wait(61.0, frame_s=0.5)
    read(today)
    today.key(pygame.K_RETURN)
    assert today.screen_name == "TodayScreen"
    assert today.context.session.plan.step.kind is StepKind.FIRST_SIGHT


def test_first_sight_is_once_through_and_covered_until_it_begins(today):
    today.key(pygame.K_BACKSPACE)
    today.key(pygame.K_RETURN)
    assert today.screen.request.stage is Stage.SIGHT
    assert today.screen.view.covered


def test_everything_can_be_skipped(today):
    for _ in range(len(today.context.session.plan.progress.steps)):
        today.key(pygame.K_BACKSPACE)
    assert today.context.session.plan.step is None
    today.key(pygame.K_RETURN)
    assert today.screen_name == "ShelfScreen"


def test_escape_leaves_the_plan_where_it_is(today):
    today.key(pygame.K_BACKSPACE)
    standing = today.context.session.plan.step
    today.key(pygame.K_ESCAPE)
    today.key(pygame.K_t)
    assert today.context.session.plan.step == standing


def test_more_or_fewer_minutes_make_another_plan(today):
    today.key(pygame.K_LEFT)
    today.key(pygame.K_LEFT)
    assert today.context.settings.plan_minutes == 10
    assert sum(step.minutes for step in today.context.session.plan.progress.steps) == 10
    for _ in range(40):
        today.key(pygame.K_RIGHT)
    assert today.context.settings.plan_minutes == 90
    assert any(step.kind is StepKind.REST for step in today.context.session.plan.progress.steps)


def test_what_was_practised_is_in_the_plan_of_the_next_day(tmp_path):
    table = Table(tmp_path)
    table.key(pygame.K_RETURN)
    read(table)
    table.context.session.log.flush()
    table.day += 1
    table.context.session.plan.replan()
    table.go(ToToday())
    kinds = [step.kind for step in table.context.session.plan.progress.steps]
    assert StepKind.PASSAGE in kinds
    step = next(step for step in table.context.session.plan.progress.steps if step.kind is StepKind.PASSAGE)
    assert table.context.session.plan.find_passage(step.passage).entry.title == "Au clair de la lune"


def test_notes_that_were_slow_are_known_from_the_log_and_come_up_more(tmp_path):
    table = Table(tmp_path)
    table.open("F4 q, G4 q, A4 q, G4 q", "F4 q, A4 q, G4 q, A4 q")
    for note in table.screen.take.expected:
        table.wait(4.0 if note.sounding == 57 else 0.3, frame_s=0.1)
        table.play(note.sounding)
    table.wait(2.0)
    table.context.session.log.flush()
    weights = table.context.session.notes.weights(table.context.settings.neck_map())
    assert weights[57] > 2 * weights[55]


def test_the_guitar_alone_begins_and_skips(today):
    from game.neck.tuning import Place

    today.play(40, Place(6, 0))
    today.play(40, Place(6, 0))
    today.wait(1.0)
    assert today.context.session.plan.progress.at == 1
    today.play(40, Place(6, 0))
    today.wait(1.0)
    assert today.screen.request.planned


@pytest.mark.parametrize(("difficulty", "low", "high"), [(0.5, 0.5, 1), (1.12, 0.9, 1.2), (2.0, 3.5, 4.5), (5, 8, 9)])
def test_a_tune_is_compared_with_the_lines_of_a_level(difficulty, low, high):
    assert low <= comparable_level(difficulty) <= high


def test_while_a_long_log_is_gone_through_the_plan_says_that_it_goes_by_the_last_weeks(tmp_path, monkeypatch):
    table = Table(tmp_path)
    for _ in range(2):
        table.open("F4 h, G4 h", "A4 w")
        for note in table.screen.take.expected:
            table.play(note.sounding)
        table.wait(1.5)
    table.context.session.log.flush()
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    later = Table(tmp_path)
    later.go(ToToday())
    planning = later.context.session.plan
    assert not planning.complete
    for_now = planning.progress
    later.wait(0.1)
    for known in (later.context.session.coach.projection, later.context.session.notes.projection):
        known.wait(60)
    assert planning.complete
    assert planning.progress is not for_now
    assert planning.progress is planning.progress
