"""A tune is heard whole, and nothing is asked."""

import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from game.screens.reading.listening_screen import ListeningScreen
from game.screens.routes import ToListening, ToShelf, ToToday
from tests.screens.ways import request_of


@pytest.fixture
def heard(table, monkeypatch):
    """What was sounded, as pairs of lines and accompaniment; the table has a page of it open."""
    sounded = []
    sound = table.context.devices.sound
    monkeypatch.setattr(sound, "play", lambda lines, _clock, accompaniment=(): sounded.append((lines, accompaniment)))
    table.go(ToShelf())
    table.go(ToListening(request_of(table)))
    return sounded


def test_it_sounds_when_the_page_is_opened_and_counts_as_heard(heard, table):
    assert len(heard) == 1
    passage = table.screen._passage
    assert passage.whole
    assert table.context.session.log.facts.has_heard(passage)


def test_space_sounds_it_again_once_it_is_over(heard, table):
    table.key(pygame.K_SPACE, " ")
    assert len(heard) == 2


@pytest.mark.parametrize("key", [pygame.K_RETURN, pygame.K_ESCAPE])
def test_from_there_one_goes_back_to_where_one_came_from(heard, table, key):
    assert heard
    table.key(key)
    assert table.screen_name == "ShelfScreen"


def test_as_a_step_of_the_plan_it_is_over_when_it_is_left_by_the_corner(table):
    plan = table.context.session.plan
    kinds = [step.kind for step in plan.progress.steps]
    plan.choose(kinds.index(StepKind.HEARD_WHOLE))
    table.go(ToToday())
    table.key(pygame.K_RETURN)
    assert isinstance(table.screen, ListeningScreen)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
    assert plan.step is None or plan.step.kind is not StepKind.HEARD_WHOLE
