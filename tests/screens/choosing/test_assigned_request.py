"""A part of an assignment is opened as the teacher set it."""

import pygame
import pytest

from game.coach.stages import Stage
from game.paths import shipped
from game.player.tune_pages import TunePages
from game.screens.choosing.shelf_opening import opened
from game.screens.routes import ToAssigned, ToPage, ToSibling, ToToday

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


def test_what_was_set_holds_for_its_takes_and_nothing_of_the_players_own_is_changed(table, tmp_path):
    table.settle(position=7, choices={64: (2, 5)}, target_bpm=96)
    own = table.context.settings
    path = tmp_path / "week.toml"
    path.write_text(
        'title = "The week"\n[map]\nposition = 5\n'
        '[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\nstages = ["time"]\ntempo = 72\n'
    )
    table.drop(path)
    table.key(pygame.K_RETURN)
    assert table.screen.neck_map.position == 5
    assert table.screen.request.target_bpm == 72
    # Cut off in the middle, here: nothing has to be put back.
    assert table.context.settings == own
    table.go(ToPage(table.screen.request.in_stage(Stage.PLACES), chosen=True))
    for note in table.screen.take.expected:
        table.play(note.sounding, note.home.place)
    table.wait(1.5)
    assert table.screen_name == "ResultScreen"
    table.go(ToPage(table.screen.request.in_stage(Stage.TIME)))
    assert table.screen.request.target_bpm == 72
    assert table.context.settings == own
    assert table.logged("SELECT count(*) FROM fact WHERE about IN ('setting', 'map')") == [(0,)]
    assert {bpm for (bpm,) in table.logged("SELECT target_bpm FROM coach_event")} == {96}


def test_leaving_it_the_players_own_map_and_target_are_back(table, tmp_path):
    table.settle(position=7, target_bpm=96)
    path = tmp_path / "week.toml"
    text = 'title = "The week"\n[map]\nposition = 5\n[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\ntempo = 72\n'
    path.write_text(text)
    table.drop(path)
    table.key(pygame.K_RETURN)
    for note in table.screen.take.expected:
        table.play(note.sounding, note.home.place)
    table.wait(1.5)
    entry, passage = table.context.session.last_opened, table.screen.request.passage
    table.go(ToToday())
    session = table.context.session
    # What is earned goes by the own target, whatever tempo a teacher set for these takes.
    assert session.coach.record_of(passage).facts.target_bpm == 96
    assert {record.facts.target_bpm for record in session.plan.known.coach_state.records.values()} == {96}
    assert {one.target_bpm for one in session.plan.situation().passages if one.last_day} <= {96}
    table.go(opened(table.context, entry, TunePages(), 0))
    assert table.screen.neck_map.position == 7
    assert session.coach.record_of(table.screen.request.passage).facts.target_bpm == 96


def test_another_line_of_the_same_notes_is_still_under_what_was_set(assigned):
    assigned.settle(position=7)
    assigned.drop(SHIPPED)
    assigned.key(pygame.K_DOWN)
    assigned.key(pygame.K_RETURN)
    request = assigned.screen.request
    assigned.go(ToSibling(request))
    assert assigned.screen.neck_map == request.neck_map
    assert assigned.screen.request.assigned == request.assigned


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


def opened_week(table, tmp_path, parts):
    path = tmp_path / "week.toml"
    path.write_text(f'title = "The week"\ndue = 2026-11-24\n{parts}')
    table.drop(path)
    table.key(pygame.K_RETURN)
    return table.screen.request.assigned.assignment


def test_a_line_that_was_left_in_the_middle_goes_on_where_it_was(table, tmp_path):
    """Whoever looks at the sheet between two pages, or two stages, has lost nothing."""
    week = opened_week(table, tmp_path, '[[line]]\nlevel = 1\nstages = ["places"]\n')
    first = table.screen.request
    assert len(first.passages) == 2
    table.play_through()
    table.go(ToAssigned(week, 0))
    again = table.screen.request
    assert (again.score, again.index, again.stage) == (first.score, 1, Stage.PLACES)
    table.play_through()
    assert table.context.session.assignments.against_done(week).done
    # It is read: the next one is another.
    table.go(ToAssigned(week, 0))
    assert (table.screen.request.score != first.score, table.screen.request.index) == (True, 0)


def test_a_line_that_was_seen_is_never_set_at_first_sight_again(table, tmp_path):
    week = opened_week(table, tmp_path, '[[line]]\nlevel = 1\nstages = ["sight"]\n')
    first = table.screen.request
    table.go(ToAssigned(week, 0))
    assert table.screen.request.score != first.score


def test_a_tune_goes_on_at_the_first_page_that_is_left(table, tmp_path):
    week = opened_week(table, tmp_path, '[[tune]]\ntitle = "Amazing Grace"\nstages = ["places"]\n')
    assert len(table.screen.request.passages) > 1
    table.play_through()
    table.go(ToAssigned(week, 0))
    assert table.screen.request.index == 1
