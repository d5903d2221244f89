"""The music of the plan's steps, and what follows it."""

import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
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
