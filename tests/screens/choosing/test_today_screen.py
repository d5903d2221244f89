"""Today's plan is followed with one key, and nothing in it must be done."""

import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from tests.screens.table import Table


@pytest.fixture
def today(tmp_path):
    table = Table(tmp_path)
    table.key(pygame.K_t)
    return table


def test_a_new_player_has_a_plan_in_the_order_of_the_house(today):
    assert today.screen_name == "TodayScreen"
    kinds = [step.kind for step in today.context.session.plan.progress.steps]
    assert kinds[:2] == [StepKind.WARM_UP, StepKind.FIRST_SIGHT]
    assert StepKind.NEW_TUNE in kinds
    assert sum(step.minutes for step in today.context.session.plan.progress.steps) == 20


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


def test_the_guitar_alone_begins_and_skips(today):
    from game.neck.tuning import Place

    today.play(40, Place(6, 0))
    today.play(40, Place(6, 0))
    today.wait(1.0)
    assert today.context.session.plan.progress.at == 1
    today.play(40, Place(6, 0))
    today.wait(1.0)
    assert today.screen.request.planned
