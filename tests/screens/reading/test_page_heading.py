"""The heading of a page: title and quiet facts."""

from dataclasses import replace

import pytest

from game.coach.stages import Stage
from game.desk.sheet import Sheet
from game.music.meter import Meter
from game.screens.reading.page_heading import beat_in_words, facts_of_page, needs_two_lines, stage_in_words
from tests.screens.ways import request_of


@pytest.mark.parametrize(
    ("stage", "changes", "facts"),
    [
        (Stage.PLACES, {}, "pitch only, no clock"),
        (Stage.LETTERS, {}, "naming the notes, no clock"),
        (Stage.TIME, {}, "pitch and rhythm, your own pace"),
        (Stage.TIME, {"tempo_bpm": 76}, "pitch and rhythm, ♩ = 76"),
        (Stage.PLACES, {"tempo_bpm": 50, "one_a_click": True}, "pitch only, one note a click, 50"),
    ],
)
def test_the_facts_tell_bars_what_is_asked_its_clock_and_the_position(table, stage, changes, facts):
    request = replace(request_of(table, stage), **changes)
    told = facts_of_page(request, with_tempo=True)
    assert told.split(", ")[-1] == "position V"
    assert f", {facts}, " in told


def test_where_a_ladder_tells_the_tempo_the_facts_do_not(table):
    request = replace(request_of(table, Stage.TIME), tempo_bpm=76)
    assert "with the click" in facts_of_page(request, with_tempo=False)
    assert "76" not in facts_of_page(request, with_tempo=False)


def test_facts_have_a_line_of_their_own_after_a_long_title_only():
    sheet = Sheet((1280, 720))
    assert not needs_two_lines(sheet, "Ode to Joy", "bars 1–4, pitch only", 1212)
    assert needs_two_lines(sheet, "A title that is " * 5, "bars 1–4, pitch only", 1212)
    assert not needs_two_lines(sheet, "A title that is " * 9, "", 1212)


@pytest.mark.parametrize(
    ("meter", "sign"),
    [(Meter(4, 4), "♩"), (Meter(3, 8), "♪"), (Meter(6, 8), "♩."), (Meter(12, 8), "♩."), (Meter(2, 2), "\U0001d15e")],
)
def test_the_beat_is_told_by_its_note(meter, sign):
    assert beat_in_words(meter) == sign


def test_the_stage_is_told_with_its_clock(table):
    request = request_of(table)
    assert stage_in_words(request) == "pitch only"
    assert stage_in_words(request.in_stage(Stage.TIME)) == "time, your own pace"
    assert stage_in_words(replace(request.in_stage(Stage.TIME), tempo_bpm=76)) == "time, ♩ = 76"
    assert stage_in_words(replace(request, tempo_bpm=50, one_a_click=True)) == "a note a click, 50"
