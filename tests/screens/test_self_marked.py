"""An ordinary guitar without a pickup: the player marks what was right."""

from dataclasses import replace

import msgspec
import pygame
import pytest

from game.coach.stages import Pulse, Stage
from game.judging.verdicts import Verdict
from game.neck.tuning import Place
from game.player.settings import InstrumentKind, Settings
from game.practice.pencilled import SaidWrong
from game.screens.routes import ToPage
from tests.screens.table import Table

ROW = ("F4 q, G4 q, Bb4 h",)


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path, msgspec.structs.replace(Settings(), instrument=InstrumentKind.NO_PICKUP))


def words(table):
    return [v.verdict.value for v in table.screen.finished.judgement.verdicts]


def logged(table, question):
    table.context.session.log.flush()
    with table.context.session.log.reading() as connection:
        return connection.execute(question).fetchall()


def test_untimed_a_key_shows_name_and_home_and_the_player_says_right_or_wrong(table):
    table.open(*ROW, key=-1)
    table.wait(1.2)
    table.key(pygame.K_BACKSPACE)
    assert table.screen.take.at == 0
    for right in (True, False, True):
        table.key(pygame.K_SPACE, " ")
        assert table.screen.view.sketch is not None
        table.key(pygame.K_SPACE if right else pygame.K_BACKSPACE)
    assert words(table) == ["clean", "wrong pitch", "clean"]
    assert table.screen.finished.judgement.verdicts[0].time_to_find_ms == pytest.approx(1200, abs=20)
    assert [mark.mark for mark in table.screen._marks] == [SaidWrong()]


def test_a_self_marked_take_is_kept_as_such_and_the_coach_hears_of_it(table):
    table.open(*ROW, key=-1)
    for _ in range(6):
        table.key(pygame.K_SPACE, " ")
    assert table.screen.decision.reason
    assert logged(table, "SELECT self_marked FROM take") == [(1,)]
    assert logged(table, "SELECT verdict FROM verdict ORDER BY n") == [("clean",)] * 3


def test_with_the_click_the_wrong_notes_are_marked_on_the_page_afterwards(table):
    request = replace(table.open(*ROW, key=-1), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)
    table.go(ToPage(request, chosen=True))
    table.key(pygame.K_SPACE, " ")
    table.wait(6.5)
    assert table.screen_name == "MarkingScreen"
    table.key(pygame.K_RIGHT)
    table.key(pygame.K_SPACE, " ")
    table.click(table.screen._music.note_box(table.screen._notes[2].heads[0]).head.center)
    table.key(pygame.K_SPACE, " ")
    table.key(pygame.K_w, "w")
    table.key(pygame.K_RETURN)
    assert words(table) == ["clean", "wrong pitch", "clean"]
    assert table.screen.finished.tempo_bpm == 100
    assert logged(table, "SELECT self_marked, tempo_bpm FROM take") == [(1, 100.0)]


def test_a_note_that_is_heard_after_all_is_judged_as_always(table):
    request = replace(table.open(*ROW, key=-1), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100)
    table.go(ToPage(request, chosen=True))
    table.play_in_time()
    table.wait(3.0)
    assert table.screen_name == "ResultScreen"
    assert {v.verdict for v in table.screen.finished.judgement.verdicts} == {Verdict.CLEAN}
    assert table.screen.finished.judgement.verdicts[0].first.place == Place(5, 8)


def test_at_ones_own_pace_the_player_says_when_it_is_over_and_marks_it(table):
    request = table.open(*ROW, key=-1).in_stage(Stage.RHYTHM)
    table.go(ToPage(request, chosen=True))
    table.wait(3.0)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    assert words(table) == ["clean"] * 3
    assert table.screen.decision.reason
