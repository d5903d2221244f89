"""A part of an assignment is opened as the teacher set it."""

import pygame
import pytest

from game.coach.stages import Stage
from game.paths import shipped

SHIPPED = shipped("content", "assignments", "first-week.toml")


@pytest.fixture
def assigned(table):
    table.drop(SHIPPED)
    assert table.screen_name == "AssignmentScreen"
    return table


def test_the_bars_that_were_set_are_opened_in_their_first_stage(assigned):
    assigned.key(pygame.K_RETURN)
    assert "Ode to Joy" in assigned.screen.request.score.title
    assert assigned.screen.request.stage is Stage.PLACES
    assert assigned.screen.request.passage.bar_numbers == ("1", "4")
    assert assigned.context.settings.target_bpm == 72


def test_fresh_lines_that_were_set_are_made(assigned):
    assigned.key(pygame.K_DOWN)
    assigned.key(pygame.K_RETURN)
    assert assigned.screen.request.fresh
    assert assigned.screen.request.stage is Stage.SIGHT


def test_a_tune_that_is_not_on_the_shelf_is_told(table, tmp_path):
    path = tmp_path / "unknown.toml"
    path.write_text('title = "Unknown"\n[[tune]]\ntitle = "No Such Tune"\n')
    table.drop(path)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    assert "No Such Tune" in table.context.window.message
