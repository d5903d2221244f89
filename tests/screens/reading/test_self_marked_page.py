"""The `places` stage for an ordinary guitar: the player marks what was right."""

import msgspec
import pygame
import pytest

from game.judging.verdicts import Verdict
from game.player.settings import InstrumentKind, Settings
from game.practice.pencilled import SaidWrongMark
from tests.screens.plugged_in import Plugged
from tests.screens.table import Table

ROW = ("F4 q, G4 q, Bb4 h",)


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path, msgspec.structs.replace(Settings(), instrument=InstrumentKind.NO_PICKUP))


def test_a_pedal_shows_and_marks_the_notes_of_an_ordinary_guitar(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    pickup = Plugged(table)
    table.open("F4 h, G4 h")
    for presses in (1, 1, 1, 2):
        pickup.press_pedal(times=presses)
    assert table.screen_name == "ResultScreen"
    verdicts = [verdict.verdict for verdict in table.screen.finished.judgement.verdicts]
    assert verdicts[0] is Verdict.CLEAN
    assert verdicts[1] is not Verdict.CLEAN


def test_untimed_a_key_shows_name_and_home_and_the_player_says_right_or_wrong(table):
    table.open(*ROW, key=-1)
    table.wait(1.2)
    table.key(pygame.K_BACKSPACE)
    assert table.screen.take.at == 0
    for right in (True, False, True):
        table.key(pygame.K_SPACE)
        assert table.screen.view.sketch is not None
        table.key(pygame.K_SPACE if right else pygame.K_BACKSPACE)
    assert table.verdicts == ["clean", "wrong pitch", "clean"]
    assert table.screen.finished.judgement.verdicts[0].time_to_find_ms == pytest.approx(1200, abs=20)
    assert [mark.mark for mark in table.screen._marks] == [SaidWrongMark()]


def test_a_self_marked_take_is_kept_as_such_and_the_coach_hears_of_it(table):
    table.open(*ROW, key=-1)
    for _ in range(6):
        table.key(pygame.K_SPACE)
    assert table.screen.decision.reason
    assert table.logged("SELECT self_marked FROM take") == [(1,)]
    assert table.logged("SELECT verdict FROM verdict ORDER BY n") == [("clean",)] * 3


def test_what_the_player_says_was_right_stays_in_pencil_in_every_look(table):
    """Nobody heard it: nothing turns to ink."""
    table.open(*ROW, key=-1)
    table.key(pygame.K_SPACE)
    table.key(pygame.K_SPACE)
    for _ in range(2):
        assert set(table.screen.view.colours.values()) == {table.context.theme.pencil}
        table.key(pygame.K_F2)


def test_a_note_said_to_be_right_by_mistake_is_wrong_by_the_key_that_says_so(table):
    table.open(*ROW, key=-1)
    table.key(pygame.K_BACKSPACE)
    for key in (pygame.K_SPACE, pygame.K_SPACE, pygame.K_BACKSPACE, pygame.K_BACKSPACE):
        table.key(key)
    assert [mark.mark for mark in table.screen.view.marks] == [SaidWrongMark()]
    assert table.screen.view.colours == {}
    for _ in range(4):
        table.key(pygame.K_SPACE)
    assert table.verdicts == ["wrong pitch", "clean", "clean"]
    assert table.logged("SELECT n, said_right FROM name_given ORDER BY name_given") == [(1, 1), (1, 0), (2, 1), (3, 1)]
