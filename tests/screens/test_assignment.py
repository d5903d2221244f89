"""An assignment dropped on the window is opened, and its parts are laid on the desk."""

import pygame
import pytest

from game.coach.stages import Stage
from game.paths import shipped

SHIPPED = shipped("content", "assignments", "first-week.toml")


def drop(table, path):
    table.app.step([pygame.event.Event(pygame.DROPFILE, file=str(path))])


@pytest.fixture
def assigned(table):
    drop(table, SHIPPED)
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


def test_its_map_holds_from_then_on(table, tmp_path):
    path = tmp_path / "seventh.toml"
    path.write_text('title = "Higher up"\n[map]\nposition = 7\n[[line]]\nlevel = 1\n')
    drop(table, path)
    assert table.context.settings.position == 7


def test_all_faults_are_told_at_once_and_the_shelf_stays(table, tmp_path):
    path = tmp_path / "faulty.toml"
    path.write_text('title = "Faulty"\n[[tune]]\nstages = ["flying"]\n[[line]]\nlevel = 99\n')
    drop(table, path)
    assert table.screen_name == "ShelfScreen"
    assert "flying" in table.context.window.message
    assert "99" in table.context.window.message


def test_a_tune_that_is_not_on_the_shelf_is_told(table, tmp_path):
    path = tmp_path / "unknown.toml"
    path.write_text('title = "Unknown"\n[[tune]]\ntitle = "No Such Tune"\n')
    drop(table, path)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    assert "No Such Tune" in table.context.window.message


def test_in_a_take_an_assignment_waits(table):
    table.open("F4 h, G4 h")
    drop(table, SHIPPED)
    assert table.screen_name == "PlacesPage"
    assert "drop it again" in table.context.window.message
