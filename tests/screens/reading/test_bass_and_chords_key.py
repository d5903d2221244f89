"""One key puts bass and chords on and off, wherever a line is heard as it is written."""

from dataclasses import replace

import pygame
import pytest

from game.audio.sound import silence
from game.music.accompanying import Accompanied
from game.music.passage import whole_tune
from game.practice.take_request import TakeRequest, request_for
from game.screens.reading.bass_and_chords_key import bass_and_chords_hint, has_chords, toggle_bass_and_chords
from game.screens.routes import ToListening, ToPage, ToResult
from tests.audio.lead_sheets import chord
from tests.made import score
from tests.screens.table import Table
from tests.screens.told_keys import told_keys


def request_of(table: Table) -> TakeRequest:
    """Two bars over chords."""
    made = score("F4 q, G4 q, A4 q, Bb4 q", "C5 w", key=-1)
    bars = tuple(replace(bar, chords=(chord(symbol),)) for bar, symbol in zip(made.bars, ("F", "C7"), strict=True))
    return request_for(replace(made, bars=bars), table.context.settings.neck_map())


def result_of(table: Table) -> ToResult:
    """The result of a take of them."""
    table.go(ToPage(request_of(table), chosen=True))
    table.play_through()
    return ToResult(table.screen.request, table.screen.finished, table.screen.decision)


def test_it_is_the_setting_that_changes_and_what_sounds_with_it(table):
    sound = table.context.devices.sound = silence()
    toggle_bass_and_chords(table.context)
    assert table.context.settings.accompanied is Accompanied.NOTHING
    assert sound.volumes.accompaniment == 0
    toggle_bass_and_chords(table.context)
    assert table.context.settings.accompanied is Accompanied.WHOLE
    assert sound.volumes.accompaniment == table.context.settings.accompaniment_volume


def test_who_had_them_above_the_second_rung_has_them_there_again(table):
    table.settle(accompanied=Accompanied.UPPER_RUNGS)
    toggle_bass_and_chords(table.context)
    toggle_bass_and_chords(table.context)
    assert table.context.settings.accompanied is Accompanied.UPPER_RUNGS


def test_the_box_tells_whether_they_are_on(table):
    (on,) = bass_and_chords_hint(table.context)
    toggle_bass_and_chords(table.context)
    (off,) = bass_and_chords_hint(table.context)
    assert (on.labels, on.meaning, off.meaning) == (("C",), "chords: on", "chords: off")


@pytest.mark.parametrize(("symbol", "sounds"), [("F7", True), ("N.C.", False), (None, False)])
def test_only_a_chord_that_sounds_is_one(symbol, sounds):
    made = score("F4 w", "F4 w")
    chords = (chord(symbol),) if symbol else ()
    assert has_chords(whole_tune(replace(made, bars=(replace(made.bars[0], chords=chords), made.bars[1])))) is sounds


@pytest.mark.parametrize("screen", ["result", "listening"])
def test_it_is_shown_and_works_where_a_line_with_chords_is_heard(table, screen):
    table.go(ToListening(request_of(table)) if screen == "listening" else result_of(table))
    assert "C" in told_keys(table.context.window.told_keys)
    before = table.picture()
    table.key(pygame.K_c, "c")
    assert table.context.settings.accompanied is Accompanied.NOTHING
    assert table.picture() != before
