"""How late an instrument is, measured along with the click."""

from random import Random

import pygame
import pytest

from game.instrument.decoding.delay import period_s
from game.screens.routes import ToDelay
from game.screens.tabbed_sheet import ENTER
from game.text.catalogue import say
from tests.screens.drawn_text import DrawnText
from tests.screens.plugged_in import NAME


def test_the_delay_is_measured_along_with_the_click_and_taken_out_of_every_note(table, pickup):
    """Three periods of the pitch, and a player who leans 20 ms early: the lean stays in."""
    table.go(ToDelay(NAME))
    rng = Random(5)
    for string, sounding in ((6, 40), (1, 64)):
        table.key(pygame.K_SPACE)
        onset_s, number = table.screen._onset_s, 0
        while table.screen._onset_s is not None:
            due_s = onset_s + 0.75 * number - 0.02 + 3 * period_s(sounding) + rng.gauss(0, 0.005)
            table.clock.advance(max(0.001, due_s - table.clock.now_s()))
            pickup.driver.play("Guitar:Guitar MIDI 1 24:0", [0x90 | string - 1, sounding, 80])
            table.wait(0.3, frame_s=0.1)
            number += 1
            assert number < 40
    kept = table.context.settings.devices[NAME]
    assert kept.calibrated
    assert kept.periods == pytest.approx(3.0, abs=0.45)
    assert kept.constant_ms == 0
    assert "your own lean" in table.screen.words


def test_plucks_that_do_not_go_with_the_click_change_nothing(table, pickup):
    table.go(ToDelay(NAME))
    rng = Random(6)
    for string, sounding in ((6, 40), (1, 64)):
        table.key(pygame.K_SPACE)
        while table.screen._onset_s is not None:
            table.wait(rng.uniform(0.2, 1.1), frame_s=0.1)
            pickup.driver.play("Guitar:Guitar MIDI 1 24:0", [0x90 | string - 1, sounding, 80])
    assert NAME not in table.context.settings.devices
    assert "nothing is changed" in table.screen.words


def test_space_stops_what_it_began_and_tab_chooses_the_cable_only_while_nothing_runs(table):
    table.go(ToDelay(NAME))
    table.key(pygame.K_TAB)
    assert table.screen.by_cable
    table.key(pygame.K_TAB)
    table.key(pygame.K_SPACE)
    assert table.screen.moving
    table.key(pygame.K_TAB)
    assert not table.screen.by_cable
    table.key(pygame.K_SPACE)
    assert (table.screen.moving, table.screen.plucks) == (False, [])


def test_the_corner_begins_and_while_the_click_goes_on_it_is_said_that_it_ends_by_itself(table, monkeypatch):
    table.go(ToDelay(NAME))
    assert table.context.window.corner.presses == (ENTER,)
    drawn = DrawnText(monkeypatch)
    table.key(pygame.K_RETURN)
    assert table.screen.moving
    assert table.context.window.corner is None
    assert say("delay.by_itself") in drawn.whole
