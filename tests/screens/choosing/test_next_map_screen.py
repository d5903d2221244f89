"""Once a map is fluent Today says so, and the next one is chosen, put off or declined."""

import pygame
import pytest

from game.coach.notes.map_identity import map_key
from game.coach.plan.next_map import NextMapAnswer
from game.coach.plan.plan_steps import StepKind
from game.player.settings import InstrumentKind
from game.screens.choosing.next_map_screen import NextMapScreen
from game.screens.choosing.today_screen import TodayScreen
from game.screens.routes import ToMaps, ToNextMap, ToToday
from tests.coach.notes.test_fluent_map import BADLY, known
from tests.screens.table import Table

DOWN, ENTER, TAB = pygame.K_DOWN, pygame.K_RETURN, pygame.K_TAB


@pytest.fixture(name="table")
def at_a_fluent_map(tmp_path):
    table = Table(tmp_path / "player", size=(1280, 720))
    read_as(table, known())
    return table


def read_as(table, mastery):
    """The player has read so."""
    table.context.session.notes.projection.state = mastery


def own_text(table):
    return map_key(table.context.settings.neck_map())


def test_today_says_once_that_a_map_is_fluent_and_tab_leads_to_the_next(table):
    table.go(ToToday())
    assert "Position V is fluent" in table.screen.sheet.remark_title
    assert "84 of 90 notes right" in table.screen.sheet.remark[0]
    facts = table.context.session.log.facts.desk
    assert list(facts.fluent_maps) == [own_text(table)]
    table.key(TAB)
    assert isinstance(table.screen, NextMapScreen)


def test_a_map_that_is_not_fluent_has_no_next_one_on_today(table):
    read_as(table, known(days=(BADLY, BADLY, BADLY)))
    table.go(ToToday())
    assert not table.screen.sheet.next_map
    table.key(TAB)
    assert isinstance(table.screen, TodayScreen)


def test_the_proposed_map_is_learned_from_then_on_and_the_other_is_kept(table):
    table.go(ToNextMap())
    position = table.screen.choices[0].next_map.neck_map.position
    table.key(ENTER)
    assert isinstance(table.screen, TodayScreen)
    assert table.context.settings.position == position != 5
    kept = [one.neck_map.position for one in table.context.session.maps.all]
    assert sorted(kept) == sorted((5, position))
    assert not table.screen.sheet.next_map
    maps = table.context.session.plan.known.maps
    assert [one.neck_map.position for one in maps.fluent_others] == [5]
    assert maps.begins_another


def test_put_off_it_comes_again_after_a_week_and_not_before(table):
    table.go(ToNextMap())
    answer(table, NextMapAnswer.POSTPONED)
    assert not table.screen.sheet.next_map
    for days, proposed in ((6, False), (1, True)):
        table.day += days
        read_as(table, known())
        table.go(ToToday())
        assert table.screen.sheet.next_map is proposed


def test_declined_it_does_not_come_again(table):
    table.go(ToNextMap())
    answer(table, NextMapAnswer.DECLINED)
    table.day += 60
    read_as(table, known())
    table.go(ToToday())
    assert not table.screen.sheet.next_map
    assert table.context.settings.position == 5


def answer(table, what):
    """Choose that answer and give it."""
    at = [choice.answer for choice in table.screen.choices].index(what)
    for key in (*[DOWN] * at, ENTER):
        table.key(key)


def test_each_choice_says_why_in_sentences(table):
    table.go(ToNextMap())
    kinds = [choice.next_map.kind.value for choice in table.screen.choices if choice.next_map]
    assert kinds == ["position", "concert"]
    for choice in table.screen.choices:
        reasons = list(table.screen._reasons(choice))
        assert reasons
        assert all(reason.endswith(".") for reason in reasons)


def test_a_click_chooses_and_a_second_one_answers(table):
    table.go(ToNextMap())
    table.picture()
    table.click((200, 204 + 44 * 2))
    assert table.screen.chosen == 2
    table.click((200, 204 + 44 * 2))
    assert isinstance(table.screen, TodayScreen)


@pytest.mark.parametrize("rows_up", [1, 2])
def test_a_next_map_that_was_put_off_or_declined_is_asked_for_again_among_the_maps(table, rows_up):
    table.go(ToNextMap())
    for _ in range(len(table.screen.choices) - rows_up):
        table.key(DOWN)
    assert "among your maps" in " ".join(table.screen._reasons(table.screen.choices[table.screen.chosen]))
    table.key(ENTER)
    table.go(ToToday())
    assert not table.screen.sheet.next_map
    table.go(ToMaps())
    table.key(TAB)
    assert isinstance(table.screen, NextMapScreen)
    position = table.screen.choices[0].next_map.neck_map.position
    table.key(ENTER)
    assert table.context.settings.position == position != 5
    said = table.context.session.log.facts.desk.next_maps
    assert [one.answer for one in said.values()] == [NextMapAnswer.ACCEPTED]


def test_a_fluent_map_brings_a_line_in_free_reading_at_the_end_of_the_day(table):
    table.go(ToToday())
    plan = table.context.session.plan
    row = table.screen.sheet.rows[-1]
    assert row.title == "Free reading"
    assert "any place is right" in row.below
    for _ in range(len(table.screen.sheet.rows) - 1):
        table.key(DOWN)
    table.key(ENTER)
    request = table.screen.request
    assert request.free_reading
    assert request.planned
    assert "anywhere on the neck" in table.screen.view.status
    assert plan.step.kind is StepKind.FREE_READING
    table.settle(instrument=InstrumentKind.KEYBOARD)
    plan.replan()
    assert StepKind.FREE_READING not in [step.kind for step in plan.progress.steps]


def test_after_a_line_in_free_reading_the_plan_goes_on_with_another_one(table):
    table.go(ToToday())
    for _ in range(len(table.screen.sheet.rows) - 1):
        table.key(DOWN)
    table.key(ENTER)
    first = table.screen.request
    for note in table.screen.take.expected:
        (place, *_) = table.context.settings.neck_map().tuning.places_of(note.sounding, 22)
        table.play(note.sounding, place)
        table.wait(0.3, frame_s=0.1)
    table.wait(1.5, frame_s=0.5)
    assert table.screen.finished.summary.right_notes == len(first.passage.notes)
    table.key(ENTER)
    assert table.screen.request.free_reading
    assert table.screen.request.passage != first.passage
