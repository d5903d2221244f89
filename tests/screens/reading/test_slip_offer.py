"""A slip of paper over the bar being played is offered once the reading is steady."""

import pygame
import pytest

from game.coach.climb import TAKES_SHOWN
from tests.screens.progress.signed_pages import play_at_target, request_of
from tests.screens.told_keys import told_keys

OFFERED = "You read steadily: a slip of paper can cover the bar you play, so that your eyes go ahead."


@pytest.fixture
def steady(table):
    """The result of the third take in a row that was clean, at one and the same tempo."""
    request = request_of(table, "Ode to Joy")
    for number in range(TAKES_SHOWN):
        assert not table.context.session.log.facts.desk.slip_offered
        play_at_target(table, request, bpm=50)
        assert (table.context.window.message == OFFERED) is (number == TAKES_SHOWN - 1)
    return table


def test_it_stands_on_one_result_and_going_on_refuses_it(steady):
    assert "Ins" in told_keys(steady.context.window.told_keys)
    steady.key(pygame.K_RETURN)
    steady.context.window.message = ""
    assert not steady.context.settings.slip
    play_at_target(steady, request_of(steady, "Ode to Joy"), bpm=50)
    assert steady.context.window.message != OFFERED
    assert "Ins" not in told_keys(steady.context.window.told_keys)


def test_who_takes_it_has_it_on_a_page_that_stands_still_and_can_throw_it_away(steady):
    steady.key(pygame.K_INSERT)
    assert (steady.context.settings.slip, steady.context.settings.still) == (True, True)
    assert "the slip covers the bar" in steady.context.window.message
    assert "Del" in told_keys(steady.context.window.told_keys)
    steady.key(pygame.K_DELETE)
    assert (steady.context.settings.slip, steady.context.settings.still) == (False, False)
    assert "Ins" in told_keys(steady.context.window.told_keys)


def test_it_is_laid_on_with_the_mouse_as_well(steady):
    boxes = steady.context.window._boxes
    steady.click(next(box for box, press in boxes if press.key == pygame.K_INSERT).center)
    assert steady.context.settings.slip
    steady.key(pygame.K_RETURN)
    assert steady.screen.view.music.slip


def test_who_uses_one_is_offered_none(table):
    table.settle(slip=True)
    request = request_of(table, "Ode to Joy")
    for _ in range(TAKES_SHOWN):
        play_at_target(table, request, bpm=50)
    assert not table.context.session.log.facts.desk.slip_offered
