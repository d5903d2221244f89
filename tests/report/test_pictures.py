"""The pictures of a report say what the tables say."""

import re
from datetime import date

import pytest

from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures
from game.practice_log.queries.how_held import HowHeld
from game.report import pictures
from game.report.pictures import pace, tempi

DAY = date(2026, 11, 25)


def passage(key, clean_bpm):
    return PassageFigures(
        key=key,
        title=key,
        first="1",
        last="4",
        takes=1,
        first_day=DAY,
        last_day=DAY,
        newest_bpm=clean_bpm,
        clean_bpm=clean_bpm,
        target_bpm=96,
    )


def test_passages_have_the_numbers_of_the_table_though_some_have_no_tempo():
    picture = tempi([passage("a", None), passage("b", 72.0), passage("c", None), passage("d", 90.0)])
    said = re.search(r"number in the table: ([^.]*)\.", picture.svg).group(1)
    assert said == "2: 72, target 96; 4: 90, target 96"


def test_a_day_with_a_single_finding_has_no_interval_and_is_shown():
    days = [
        DayFigures(day=DAY, minutes=1, takes=1, read=1, clean=1, found=1, found_s=0.5, found_s2=0.25),
        DayFigures(day=DAY, minutes=1, takes=1, read=8, clean=8, found=8, found_s=6.4, found_s2=5.6),
    ]
    assert "from 2.00 to 1.25" in pace(days, "day").svg


@pytest.mark.parametrize("left_handed", [False, True])
def test_a_slow_note_is_circled_at_its_place_for_either_hand(monkeypatch, left_handed):
    drawn = []
    monkeypatch.setattr(pictures, "inline_svg", lambda figure, **told: drawn.append((figure, told)) or "")
    note = NoteFigures(written="F4", string=5, fret=8, read=6, clean=2)
    pictures.slow_on_the_neck(standard_map(), [note], NoteNames.ENGLISH, HowHeld(left_handed=left_handed))
    figure, told = drawn[0]
    circle = next(patch for patch in figure.axes[0].patches if getattr(patch, "radius", 0) == 0.47)
    names = [text.get_position() for text in figure.axes[0].texts if text.get_text() == "F"]
    assert any(abs(x - circle.center[0]) < 0.2 and abs(y - circle.center[1]) < 0.3 for x, y in names)
    assert ("Left-handed." in told["alternative"]) == left_handed
