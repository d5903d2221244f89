"""Takes by day and number, as a page names them."""

import sqlite3
from contextlib import closing
from datetime import date, timedelta, timezone

from game.report.numbered import takes_of_days
from tests.practice_log.logged_takes import PLAYER
from tests.report.week import write_week


def test_takes_are_numbered_within_the_days_of_their_player(tmp_path):
    takes = [(minutes, 0, {1}, 1.0) for minutes in (0, 60, 15 * 60, 17 * 60, 23 * 60 + 50)]
    for hours, wanted in (
        (0, [(25, 1), (25, 2), (25, 3), (26, 1), (26, 2)]),
        (2, [(25, 1), (25, 2), (26, 1), (26, 2), (26, 3)]),
        (-8, [(24, 1), (25, 1), (25, 2), (25, 3), (25, 4)]),
    ):
        path = tmp_path / f"log {hours}"
        write_week(path, takes, zone=timezone(timedelta(hours=hours)))
        with closing(sqlite3.connect(path)) as log:
            found = takes_of_days(log, PLAYER.uuid, date(2026, 11, 24), date(2026, 11, 26))
            assert [(take.day.day, take.number) for take in found] == wanted
            # The day is the one that SQLite's own date functions give (sqlite.org, Date And Time Functions).
            rows = log.execute("SELECT date(started_utc, ?) FROM take ORDER BY take", (f"{hours:+d} hours",)).fetchall()
            assert [take.day.isoformat() for take in found] == [day for (day,) in rows]
            (only,) = takes_of_days(log, PLAYER.uuid, *[found[0].day] * 2)[:1]
            assert (only.day, only.number) == (found[0].day, 1)
