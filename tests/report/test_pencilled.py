"""The week's takes on engraved pages: which are chosen, and where the pencil marks stand."""

import re
import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from xml.etree import ElementTree as ET

import pytest

from game.coach.stages import Stage
from game.engraving.layout import lay_out_page
from game.music.pitch import pitch
from game.neck.tuning import Place
from game.practice.pencilled import LeftOut, OffTime, PlacedMark, PlaceMark, PlayedHead
from game.practice_log.rows.log_records import Terms
from game.practice_log.transfer.export import write_export
from game.practice_log.transfer.read_export import read_export
from game.practice_log.writing.practice_log import PracticeLog
from game.report.mark_shapes import mark_shapes, slow_shapes
from game.report.numbered import day_of, takes_of_days
from game.report.pencil_page import pencil_page
from game.report.pencilled_takes import MOST_PAGES, pencilled_takes
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

ROWS = (
    ("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h"),
    ("C5 q, A4 q, F4 q, A4 q", "G4 w"),
    ("D5 q, C5 q, Bb4 q, A4 q", "F4 w"),
    ("A4 q, C5 q, Bb4 q, A4 q", "G4 w"),
    ("G4 q, C5 q, Bb4 q, A4 q", "G4 w"),
)
# Minutes after the first, which bars, which notes wrong, seconds a note.
TAKES = (
    (0, 0, {1}, 1.0),
    (5, 0, {1, 2, 3}, 1.0),
    (10, 0, {2}, 1.0),
    (15, 1, set(), 1.0),
    (20, 2, set(), 2.5),
    (25, 3, {1, 2}, 1.0),
    (30, 4, {5}, 1.0),
)

TODAY = MORNING.date()


def _write(path, takes, *, terms=None):
    with PracticeLog(path, device=DEVICE, utc_now=lambda: MORNING) as log:
        for minutes, row, wrong, gap_s in takes:
            tune = passage(*ROWS[row], key=-1)
            take = begun(minutes=minutes, tune=tune, **({"terms": terms} if terms else {}))
            handle = log.begin_take(take, zero_s=0.0)
            played = notes_of(take, gap_s=gap_s, wrong=wrong)
            for note in played:
                handle.played(note)
            handle.end(ended(judged(take, played), minutes=minutes + 1))
        assert log.flush(20)


@pytest.fixture(scope="module")
def week(tmp_path_factory):
    path = tmp_path_factory.mktemp("week") / "practice.log"
    _write(path, TAKES)
    with closing(sqlite3.connect(path)) as log:
        yield log


def _chosen(log, until=TODAY, zone="+0 minutes", **more):
    return pencilled_takes(log, PLAYER.uuid, until, zone=zone, **more)


def test_of_each_passage_the_take_with_the_most_marks_is_shown_the_worst_first(week):
    chosen = _chosen(week)
    assert [take.number for take in chosen] == [5, 2, 6, 7]
    assert len(chosen) <= MOST_PAGES
    assert [take.number for take in _chosen(week, most=2)] == [5, 2]


def test_a_note_that_took_long_is_told_with_its_seconds_but_not_the_first_nor_a_repeated_one(week):
    slow = _chosen(week)[0]
    assert slow.slow == {n: pytest.approx(2.5) for n in (2, 3, 4, 5)}


def test_a_week_ends_with_its_last_day_and_begins_six_days_before(week):
    assert len(_chosen(week, TODAY + timedelta(days=6))) == 4
    assert _chosen(week, TODAY + timedelta(days=7)) == ()
    assert _chosen(week, TODAY - timedelta(days=1)) == ()


def test_takes_are_numbered_within_the_days_of_their_player(tmp_path):
    hours = (0, 60, 15 * 60, 17 * 60, 23 * 60 + 50)
    _write(tmp_path / "log", [(minutes, 0, {1}, 1.0) for minutes in hours])
    with closing(sqlite3.connect(tmp_path / "log")) as log:
        for zone, wanted in (
            ("+0 minutes", [(25, 1), (25, 2), (25, 3), (26, 1), (26, 2)]),
            ("+120 minutes", [(25, 1), (25, 2), (26, 1), (26, 2), (26, 3)]),
            ("-480 minutes", [(24, 1), (25, 1), (25, 2), (25, 3), (25, 4)]),
        ):
            takes = takes_of_days(log, PLAYER.uuid, date(2026, 11, 24), date(2026, 11, 26), zone=zone)
            assert [(take.day.day, take.number) for take in takes] == wanted
            # The day is the one that SQLite's own date functions give (sqlite.org, Date And Time Functions).
            rows = log.execute("SELECT date(started_utc, ?) FROM take ORDER BY take", (zone,)).fetchall()
            assert [take.day.isoformat() for take in takes] == [day for (day,) in rows]
            (only,) = takes_of_days(log, PLAYER.uuid, *[takes[0].day] * 2, zone=zone)[:1]
            assert (only.day, only.number) == (takes[0].day, 1)


def test_the_zone_of_this_computer_is_that_of_sqlite():
    moment = datetime(2026, 7, 1, 23, 30, tzinfo=UTC)
    with closing(sqlite3.connect(":memory:")) as connection:
        ((day,),) = connection.execute("SELECT date('2026-07-01T23:30:00Z', 'localtime')").fetchall()
    assert day_of(moment, "localtime").isoformat() == day


def test_an_export_shows_the_same_pages_as_the_log_it_was_made_of(week, tmp_path):
    write_export(week, PLAYER, tmp_path / "ada.zip", now=datetime(2026, 12, 1, tzinfo=UTC))
    connection, contents = read_export(tmp_path / "ada.zip")
    with closing(connection):
        assert _chosen(connection, zone=contents.zone) == _chosen(week)


def test_rhythm_alone_has_no_page(tmp_path):
    _write(tmp_path / "log", TAKES[:1], terms=Terms(stage=Stage.RHYTHM))
    with closing(sqlite3.connect(tmp_path / "log")) as log:
        assert _chosen(log) == ()


def test_the_page_names_its_take_and_tells_its_marks_in_words(week):
    take = _chosen(week)[1]
    sheet = pencil_page(take)
    assert sheet.caption == "Take 2 of 25 November 2026: The Ford at Low Water, bars 1–2; places, 50% clean."
    root = ET.fromstring(sheet.svg)
    said = root.get("aria-label")
    assert "bar 1 F4: F♯4 was played (the hand, a fret or string off)" in said
    assert said.count("was played") == 3
    assert root.get("role") == "img"
    assert "#fff" not in sheet.svg
    assert "id=" not in sheet.svg


def test_a_title_cannot_break_out_of_the_page(week):
    from dataclasses import replace

    take = _chosen(week)[1]
    hostile = replace(take, bars=replace(take.bars, title='"><script>alert(1)</script>'))
    ET.fromstring(pencil_page(hostile).svg)
    assert "<script" not in pencil_page(hostile).svg


@pytest.fixture(scope="module")
def line():
    """Half-notes an octave apart and the heads of the first bar."""
    tune = passage("F4 h, D5 h", "A4 h, C5 h", key=-1)
    return lay_out_page(tune.bars, tune.reading, 62.0).systems[0], [note.heads[0] for note in tune.notes]


def test_a_played_head_stands_on_its_own_line_and_beside_the_note_where_they_would_touch(line):
    system, heads = line
    printed = system.head_boxes[heads[0]]
    far, *ledger = mark_shapes(system, PlacedMark(heads[0], PlayedHead(pitch=pitch("C4"), show_sign=False)))
    # C4 lies on the first ledger line below a treble staff: five spaces under its top line (trade).
    assert (far.box.top + far.box.bottom) / 2 == pytest.approx(system.top_line + 5, abs=0.15)
    assert far.box.left < printed.right
    assert len(ledger) == 1
    near, sign = mark_shapes(system, PlacedMark(heads[0], PlayedHead(pitch=pitch("F#4"), show_sign=True)))
    assert near.box.left > sign.box.right - 0.2
    assert sign.box.left > printed.right - 0.05


def test_arrows_point_to_where_the_note_came_and_all_signs_over_a_note_clear_it(line):
    system, heads = line
    top = min(system.box_of(heads[1]).top, system.top_line)
    tips = {}
    for early in (True, False):
        shapes = mark_shapes(system, PlacedMark(heads[1], OffTime(early=early)))
        numbers = [float(one) for one in re.findall(r"-?\d+", shapes[1].svg.split('"')[1])]
        tips[early] = min(numbers[::2]) if early else max(numbers[::2])
        assert max(shape.box.bottom for shape in shapes) < top
    assert tips[True] < tips[False]
    (caret,) = mark_shapes(system, PlacedMark(heads[1], LeftOut()))
    assert caret.box.bottom < top
    circle, seconds = slow_shapes(system, heads[1], 2.46)
    assert circle.box.left < system.head_boxes[heads[1]].left
    assert circle.box.right > system.head_boxes[heads[1]].right
    assert ">2.5<" in seconds.svg


def test_a_place_is_written_under_the_staff_as_a_circled_string_and_a_fret(line):
    system, heads = line
    ring, string, fret = mark_shapes(system, PlacedMark(heads[0], PlaceMark(place=Place(3, 10))))
    assert ring.box.top > system.top_line + 4
    assert (">3<" in string.svg, ">10<" in fret.svg) == (True, True)


def test_the_same_mark_is_drawn_the_same_each_time(line):
    system, heads = line
    mark = PlacedMark(heads[0], PlaceMark(place=Place(3, 10)))
    assert mark_shapes(system, mark) == mark_shapes(system, mark)
