"""The last look at what was read: something to play, and not too much."""

from dataclasses import replace

import pytest

from game.errors import TuneError
from game.music.score import BarMarks
from game.tunes import playable
from game.tunes.playable import check_playable
from tests.made import bar
from tests.refusing import refusal


def test_one_note_is_enough():
    check_playable([bar("r w"), bar("G4 w")], "tune.xml")


@pytest.mark.parametrize("rows", [[], ["r w"], ["gF4 e, r w"]])
def test_without_a_note_that_takes_time_there_is_nothing_to_play(rows: list[str]):
    with refusal(TuneError, r"tune\.xml: has no notes to play"):
        check_playable([bar(row) for row in rows], "tune.xml")


def test_notes_are_counted_as_often_as_they_are_played(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(playable, "MAX_NOTES", 12)
    quarters = bar("C4 q, D4 q, E4 q, F4 q")
    check_playable([replace(quarters, marks=BarMarks(repeat_end=3))], "tune.xml")
    with refusal(TuneError, r"tune\.xml: .*16 notes.* 12"):
        check_playable([replace(quarters, marks=BarMarks(repeat_end=4))], "tune.xml")


def test_a_bar_of_more_notes_than_a_page_shows_is_refused(monkeypatch: pytest.MonkeyPatch):
    """Bar lines were lost: what is laid out and judged bar by bar would take for ever."""
    monkeypatch.setattr(playable, "MAX_BAR_NOTES", 4)
    quarters = bar("C4 q, D4 q, E4 q, F4 q")
    check_playable([quarters], "tune.xml")
    with refusal(TuneError, r"tune\.xml: bar 1 has 5 notes, more than 4; put in the bar lines"):
        check_playable([bar("C4 q, D4 q, E4 q, F4 e, G4 e")], "tune.xml")
