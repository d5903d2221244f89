"""A take on its engraved page, with words for those who cannot see it."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from game.judging.verdicts import EventKind, TakeEvent
from game.music.names import NoteNames
from game.report.pencil_page import pencil_page
from game.report.pencilled_takes import pencilled_takes
from tests.practice_log.logged_takes import MORNING, PLAYER
from tests.report.week import write_week
from tests.speaking import speaking


@pytest.fixture(scope="module")
def week(tmp_path_factory):
    path = tmp_path_factory.mktemp("week") / "practice.log"
    write_week(path)
    with closing(sqlite3.connect(path)) as log:
        yield log


def _chosen(log):
    return pencilled_takes(log, PLAYER.uuid, MORNING.date())


def test_the_page_names_its_take_and_tells_its_marks_in_words(week):
    take = _chosen(week)[1]
    sheet = pencil_page(take)
    assert sheet.caption == "Take 2 of 25 November 2026: The Ford at Low Water, bars 1–2; pitch only, 3 of 6 right."
    root = ET.fromstring(sheet.svg)
    said = root.get("aria-label")
    assert "bar 1 F4: F♯4 was played (the hand, a fret or string off)" in said
    assert said.count("was played") == 3
    assert root.get("role") == "img"
    assert "#fff" not in sheet.svg
    assert "id=" not in sheet.svg


def test_a_title_cannot_break_out_of_the_page(week):
    take = _chosen(week)[1]
    hostile = replace(take, bars=replace(take.bars, title='"><script>alert(1)</script>'))
    ET.fromstring(pencil_page(hostile).svg)
    assert "<script" not in pencil_page(hostile).svg


def test_notes_are_called_as_the_player_calls_them_and_all_in_the_language_chosen(week):
    with speaking("de"):
        sheet = pencil_page(_chosen(week)[1], NoteNames.GERMAN)
    said = ET.fromstring(sheet.svg).get("aria-label")
    assert "Takt 1 F4: Fis4 wurde gespielt (die Hand, ein Bund oder eine Saite daneben)" in said
    assert sheet.caption.startswith("Durchgang 2 vom 25. November 2026: ")


def test_where_the_player_left_the_click_stands_under_its_note_and_is_told(week):
    take = _chosen(week)[1]
    events = (TakeEvent(kind=EventKind.RAN_AHEAD, n=2, time_ms=0.0), TakeEvent(kind=EventKind.STOP, n=3, time_ms=0.0))
    sheet = pencil_page(replace(take, judgement=replace(take.judgement, events=events)))
    assert ">ahead<" in sheet.svg
    assert "ran ahead" in ET.fromstring(sheet.svg).get("aria-label")
    assert "stopped" not in sheet.svg, "that is told of the take, not of a note"
