"""What is told of the keys of a take against the click."""

from dataclasses import replace

import pygame
import pytest

from game.coach.stages import Stage
from game.player.settings import InstrumentKind, Settings
from game.screens.reading.metronome_keys import metronome_keys, metronome_strings
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.table import Table
from tests.screens.timed_pages import sight_request
from tests.screens.ways import request_of


def does(keys):
    """What each key that can be pressed does."""
    return {press.key: key.meaning for key in keys for press in key.presses}


@pytest.mark.parametrize(("running", "words"), [(False, "begin"), (True, "pause")])
def test_space_begins_and_pauses_what_has_begun(table, running, words):
    keys = metronome_keys(table.context, request_of(table, Stage.TIME), running=running, covered=False)
    assert does(keys)[pygame.K_SPACE] == words


@pytest.mark.parametrize(
    ("running", "covered", "words"), [(False, True, "turn the page up"), (False, False, "begin"), (True, False, None)]
)
def test_at_first_sight_the_page_is_turned_up_then_begun_then_nothing(table, running, covered, words):
    request = replace(sight_request(table), tempo_bpm=60)
    told = does(metronome_keys(table.context, request, running=running, covered=covered))
    assert told.get(pygame.K_RETURN) == told.get(pygame.K_SPACE) == words


def test_the_first_note_is_told_of_until_it_has_begun(tmp_path):
    table = Table(tmp_path, guitar=True)
    request = request_of(table, Stage.TIME)
    before, after = (len(metronome_strings(table.context, request, running=running)) for running in (False, True))
    assert before == after + 1


def test_while_a_microphone_listens_the_free_string_is_told_to_stop_the_take(table):
    HeardGuitar(table)
    request = request_of(table, Stage.TIME)
    told = [str(metronome_strings(table.context, request, running=running)) for running in (False, True)]
    assert ["twice or more: stop" in words for words in told] == [False, True]


def test_who_marks_an_own_take_goes_back_a_bar_by_saying_that_it_was_wrong(tmp_path):
    told = []
    for instrument in (InstrumentKind.GUITAR, InstrumentKind.NO_PICKUP):
        table = Table(tmp_path, Settings(instrument=instrument))
        keys = metronome_keys(table.context, request_of(table, Stage.TIME), running=True, covered=False)
        told.append(does(keys)[pygame.K_BACKSPACE])
    assert told == ["a bar back", "wrong: a bar back"]
