"""The folder of unseen lines: one is turned over, more may be taken; level and key are chosen by arrows and clicks."""

import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.desk.kit import fitted_line
from game.player.settings import OPTIONS
from game.practice.take_request import request_for
from game.screens.choosing import lines_screen
from game.screens.choosing.lines_read import lines_read
from game.screens.choosing.lines_sheet import LinesSheet
from game.screens.routes import ToLines, ToPage, ToUnseenLine
from game.text import catalogue
from game.text.catalogue import catalogue_in
from game.text.language import languages
from game.tunes.library.library import open_entry, shelf
from tests.sampling import sample
from tests.screens.table import Table

SIZES = [(960, 600), (1280, 720), (3840, 2160)]


@pytest.fixture
def table(table):
    table.go(ToLines())
    return table


def boxes(table):
    return {press.key: box for box, press in table.context.window._boxes}


def read_one(table):
    """Read the line that is open, and come back."""
    table.key(pygame.K_SPACE, " ")
    table.play_through(each_s=0.4)
    table.context.session.log.flush()
    table.go(ToLines())


def test_enter_turns_a_line_over_at_first_sight_of_the_level_and_key_chosen(table):
    for key in (pygame.K_RIGHT, pygame.K_DOWN):
        table.key(key)
    assert (table.context.settings.line_level, table.screen.key) == (2, "F")
    table.key(pygame.K_RETURN)
    request = table.screen.request
    assert (request.fresh, request.stage) == (True, Stage.SIGHT)
    assert request.passage.score.title == "Thirds in an octave, in F"


def test_a_click_on_the_line_that_lies_face_down_turns_it_over(table):
    at = (150, 240)
    table.click(at)
    assert table.screen.request.stage is Stage.SIGHT


def test_what_was_read_stands_in_the_folder_with_level_and_right_notes_and_the_next_is_another(table):
    assert table.screen.lines == ()
    table.go(ToUnseenLine("F"))
    asked = len([note for note in table.screen.take.expected if note.home])
    title = table.screen.request.passage.score.title
    read_one(table)
    [line] = table.screen.lines
    assert (line.level, line.key, line.sight.title) == (1, "F", title)
    assert 0 < line.sight.clean <= line.sight.notes <= asked
    assert lines_read(table.context.session) == table.screen.lines


def test_the_line_of_the_plan_is_turned_while_it_waits_and_after_it_more_may_be_taken(table):
    for entry in shelf()[:2]:
        table.context.session.log.facts.open_tune(entry.name)
        table.go(ToPage(request_for(open_entry(entry), table.context.settings.neck_map()), chosen=True))
        table.play_through()
    table.context.session.log.flush()
    table.day += 1
    plan = table.context.session.plan
    [planned] = [step for step in plan.progress.steps if step.kind is StepKind.FIRST_SIGHT]
    table.go(ToLines())
    table.key(pygame.K_RETURN)
    assert (table.screen.request.planned, table.screen.request.stage) == (planned.line is not None, Stage.SIGHT)
    assert plan.step == planned
    plan.finish_step()
    table.go(ToLines())
    table.key(pygame.K_RETURN)
    assert (table.screen.request.planned, table.screen.request.fresh) == (False, True)


@pytest.mark.parametrize("size", sample(SIZES, by_default=1))
def test_a_click_left_or_right_of_level_and_key_changes_them(tmp_path, size):
    table = Table(tmp_path, size=size)
    table.go(ToLines())
    unit, screen = table.context.sheet.unit, table.screen
    sheet = LinesSheet(lines_screen.Canvas(table.app.surface, table.context.sheet, table.context.theme))
    left = sheet._value_left(screen._choices()[0])
    table.click(((left + 10) * unit, 400 * unit))
    assert table.context.settings.line_level == 2
    left = sheet._value_left(screen._choices()[0])
    table.click(((left - 22) * unit, 400 * unit))
    assert table.context.settings.line_level == 1
    table.click((590 * unit, 488 * unit))
    assert screen.key == "C"
    table.click((300 * unit, 580 * unit))
    assert (screen.key, table.context.settings.line_level) == ("C", 1)


def test_a_key_that_a_level_has_not_is_forgotten_with_it(table):
    table.settle(line_level=5)
    while table.screen.key != "Gm":
        table.key(pygame.K_DOWN)
    for _ in range(3):
        table.key(pygame.K_LEFT)
    assert (table.context.settings.line_level, table.screen.key) == (2, "")


@pytest.mark.parametrize("language", sample(languages(), by_default=1))
@pytest.mark.parametrize("size", sample(SIZES[:2], by_default=1))
def test_nothing_is_cut_and_nothing_overlaps_at_any_level_in_each_language(tmp_path, monkeypatch, language, size):
    table = Table(tmp_path, size=size)
    table.go(ToUnseenLine("F"))
    read_one(table)
    monkeypatch.setattr(catalogue._Chosen, "catalogue", catalogue_in(language))
    cut = []
    monkeypatch.setattr(fitted_line, "shortened", lambda text, *_: cut.append(text) or text)
    for _ in OPTIONS["line_level"].steps:
        table.key(pygame.K_RIGHT)
        found = [box for box, _ in table.context.window._boxes]
        assert all(box.collidelistall(found) == [number] for number, box in enumerate(found))
    assert cut == []


def test_escape_and_a_pluck_of_the_free_string_do_what_they_do_on_every_sheet(table):
    table.pluck_free_string(1)
    assert table.screen.request.stage is Stage.SIGHT
    table.go(ToLines())
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"
