"""A page of first sight lies face down, is looked at, and is read; its sheet says so at each step."""

from dataclasses import replace

import pygame
import pytest

from game.coach.stages import Pulse
from game.screens.routes import ToPage
from tests.screens.table import Table
from tests.screens.timed_pages import sight_request


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path, guitar=True)


def open_page(table, *, tempo=None):
    pulse = Pulse.FREE if tempo is None else Pulse.METRONOME
    table.go(ToPage(replace(sight_request(table), tempo_bpm=tempo, pulse=pulse), chosen=True))
    return table.screen


@pytest.mark.parametrize("tempo", [None, 60])
def test_face_down_then_looked_at_then_read(table, tempo):
    page = open_page(table, tempo=tempo)
    sheet = page.view.sight
    assert (sheet.covered, sheet.corner) == (True, "Turn it up")
    assert sheet.sentences[-1].startswith("Up to 30 silent seconds")
    table.pluck_free_string(1)
    sheet = page.view.sight
    assert (sheet.covered, sheet.corner, sheet.sentences) == (False, "Begin", ())
    assert sheet.how.startswith("key, range, repeats: ")
    table.pluck_free_string(1)
    sheet = page.view.sight
    assert sheet.enter is None
    assert sheet.how == "once through; keep going"


def test_with_the_click_the_tempo_stands_in_the_heading_and_without_it_nothing(table):
    assert open_page(table, tempo=60).view.sight.tempo == "♩ = 60"
    assert open_page(table).view.sight.tempo == ""


def test_at_ones_own_pace_the_first_note_after_turning_up_is_read(table):
    page = open_page(table)
    table.play(53)
    assert page.take.at == 0
    table.wait(1.0)
    table.play(53)
    assert page.take.at == 1
    assert page.view.sight.enter is None


def test_a_look_at_ones_own_pace_ends_by_itself_and_nothing_is_lost(table):
    page = open_page(table)
    table.play(53)
    table.wait(40.0, frame_s=0.5)
    assert page.view.sight.how == "once through; keep going"
    table.play(53)
    assert page.take.at == 1


@pytest.mark.parametrize("tempo", [None, 60])
def test_above_a_neck_the_foot_says_which_step_it_is_and_begins_nothing_twice(tmp_path, monkeypatch, tempo):
    table, said = Table(tmp_path), []
    monkeypatch.setattr("game.screens.reading.page_view.draw_foot", lambda *what: said.append(what[-1]))
    page = open_page(table, tempo=tempo)
    page.view.neck_shown = True
    table.picture()
    assert said[-1].words.startswith("Up to 30 silent seconds")
    assert [key.meaning for key in said[-1].keys][:2] == ["turn the page up"] * 2
    table.key(pygame.K_RETURN)
    table.picture()
    assert said[-1].words.startswith("key, range, repeats: ")
    assert "begin" in [key.meaning for key in said[-1].keys]
    table.key(pygame.K_RETURN)
    table.picture()
    assert said[-1].words == "once through; keep going"
    assert "begin" not in [key.meaning for key in page.view.keys]
