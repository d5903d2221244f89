"""Takes by day and number, as a page names them."""

import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime

from game.report.numbered import day_of, takes_of_days
from tests.practice_log.logged_takes import PLAYER
from tests.report.week import write_week


def test_takes_are_numbered_within_the_days_of_their_player(tmp_path):
    hours = (0, 60, 15 * 60, 17 * 60, 23 * 60 + 50)
    write_week(tmp_path / "log", [(minutes, 0, {1}, 1.0) for minutes in hours])
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
