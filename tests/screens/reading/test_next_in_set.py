"""After a take out of an assignment Enter leads on in what was set."""

import pygame
import pytest

from game.coach.stages import Stage
from game.screens.routes import ToPage
from game.text.catalogue import say


@pytest.fixture
def begun(table, tmp_path):
    """Begins the first part of an assignment of these parts."""

    def begin(parts):
        path = tmp_path / "week.toml"
        path.write_text(f'title = "The week"\ndue = 2026-11-24\n{parts}')
        table.drop(path)
        table.key(pygame.K_RETURN)
        return table

    return begin


def test_page_by_page_in_the_stage_that_was_set_and_back_to_the_assignment(begun):
    table = begun('[[tune]]\ntitle = "Amazing Grace"\nstages = ["places", "time"]\n')
    pages = len(table.screen.request.passages)
    for number in range(pages):
        assert (table.screen.request.index, table.screen.request.stage) == (number, Stage.PLACES)
        table.play_through()
        table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    table.key(pygame.K_RETURN)
    assert (table.screen.request.index, table.screen.request.stage) == (0, Stage.TIME)


def test_a_line_that_is_read_leads_back_to_the_assignment_and_from_there_to_the_next(begun):
    table = begun('[[line]]\nlevel = 1\na_day = 2\nstages = ["places"]\n')
    first = table.screen.request.score
    for _page in table.screen.request.passages:
        table.play_through()
        table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    assert not table.screen.done.done
    table.key(pygame.K_RETURN)
    assert table.screen.request.score != first


def test_what_is_not_done_yet_comes_again_as_the_coach_says(begun):
    table = begun('[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\nstages = ["places"]\n')
    for note in table.screen.take.expected:
        table.play(note.sounding + 1)
        table.play(note.sounding)
    table.wait(1.5)
    assert table.screen_name == "ResultScreen"
    table.key(pygame.K_RETURN)
    assert (table.screen.request.stage, table.screen.request.assigned is not None) == (Stage.PLACES, True)


def test_where_no_stage_was_set_the_coach_leads(begun):
    table = begun('[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\n')
    table.play_through()
    table.key(pygame.K_RETURN)
    assert table.screen_name != "AssignmentScreen"


def test_a_stage_on_the_way_to_the_one_that_was_set_goes_on_as_the_coach_says(begun):
    table = begun('[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\nstages = ["time"]\n')
    table.go(ToPage(table.screen.request.in_stage(Stage.PLACES), chosen=True))
    table.play_through()
    table.key(pygame.K_RETURN)
    assert table.screen_name != "AssignmentScreen"


def test_letters_that_are_named_lead_back_to_the_assignment_and_the_words_say_so(begun):
    table = begun('[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\nstages = ["letters"]\n')
    for note in table.screen.request.passage.notes:
        if note.pitch.alter:
            table.key(pygame.K_UP if note.pitch.alter > 0 else pygame.K_DOWN)
        table.letters(note.pitch.step.lower())
    table.wait(1.5)
    assert table.screen._words.now == say("now.assignment")
    table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    assert table.screen.done.done
