"""Which takes of the week are shown with their pencil marks."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest

from game.coach.stages import Stage
from game.practice_log.foreign.read_export import read_export
from game.practice_log.rows.log_records import Terms
from game.practice_log.transfer.export import write_export
from game.report.pencilled_takes import MOST_PAGES, pencilled_takes
from tests.practice_log.logged_takes import MORNING, PLAYER
from tests.report.week import TAKES, write_week

TODAY = MORNING.date()


@pytest.fixture(scope="module")
def week(tmp_path_factory):
    path = tmp_path_factory.mktemp("week") / "practice.log"
    write_week(path)
    with closing(sqlite3.connect(path)) as log:
        yield log


def _chosen(log, until=TODAY, **more):
    return pencilled_takes(log, PLAYER.uuid, until, **more)


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


def test_an_export_shows_the_same_pages_as_the_log_it_was_made_of(week, tmp_path):
    write_export(week, PLAYER, tmp_path / "ada.zip", now=datetime(2026, 12, 1, tzinfo=UTC))
    connection, _ = read_export(tmp_path / "ada.zip")
    with closing(connection):
        assert _chosen(connection) == _chosen(week)


def test_rhythm_alone_has_no_page(tmp_path):
    write_week(tmp_path / "log", TAKES[:1], terms=Terms(stage=Stage.RHYTHM))
    with closing(sqlite3.connect(tmp_path / "log")) as log:
        assert _chosen(log) == ()
