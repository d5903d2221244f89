"""What is summed up of a log is kept up in its file, whatever comes late."""

import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.entry_order import BEFORE_ALL, position_at
from game.practice_log.queries.sums_file import SUFFIX, Part, sums_as_they_are, sums_attached, sums_place
from game.practice_log.rows.entry_rows import About, Recorded, put_fact, us_of
from game.practice_log.rows.shared_rows import put_device, put_player
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER

TOWER = Identity(uuid=UUID(int=12), name="the tower")
DAY = timedelta(days=1)
EMPTY = ("DROP TABLE IF EXISTS summaries.told", "CREATE TABLE summaries.told (moment_us INTEGER PRIMARY KEY)")


def forget(connection, after):
    connection.execute("DELETE FROM summaries.told WHERE moment_us > ?", (after.moment_us,))


def add(connection, _player, after, upto):
    connection.execute(
        "INSERT INTO summaries.told SELECT moment_us FROM entry WHERE moment_us > ? AND moment_us <= ?",
        (after.moment_us, upto.moment_us),
    )


class Counting:
    """A part that tells how much was done."""

    def __init__(self, rules="as they are"):
        self.added, self.rules = [], rules

    @property
    def part(self):
        return Part(name="told", rules=self.rules, empty=EMPTY, forget=forget, add=self.add)

    def add(self, connection, player, after, upto):
        self.added.append((after, upto))
        add(connection, player, after, upto)


@pytest.fixture(name="path")
def a_log_of_forty_days(tmp_path):
    path = tmp_path / "practice.sqlite"
    with closing(opened(path)) as log:
        for day in range(40):
            tell(log, day)
    return path


def opened(path):
    return open_store(path, now_utc=MORNING)


def tell(log, day, device=DEVICE):
    put_fact(log, Recorded(put_device(log, device), put_player(log, PLAYER), MORNING + day * DAY), About.SETTING, {})


def told(log, counting):
    with sums_attached(log, PLAYER.uuid, (counting.part,)):
        rows = log.execute("SELECT moment_us FROM summaries.told ORDER BY moment_us").fetchall()
    assert rows == log.execute("SELECT moment_us FROM entry ORDER BY moment_us").fetchall()
    return len(rows)


def test_nothing_is_done_again_while_nothing_comes(path):
    with closing(opened(path)) as log:
        first, second = Counting(), Counting()
        assert told(log, first) == told(log, second) == 40
        assert first.added[0][0] == BEFORE_ALL
        assert second.added == []


def test_what_comes_after_is_added(path):
    with closing(opened(path)) as log:
        told(log, Counting())
        tell(log, 40)
        later = Counting()
        assert told(log, later) == 41
        ((after, _),) = later.added[-1:]
        assert after.moment_us >= us_of(MORNING + 38 * DAY)


@pytest.mark.parametrize(("late", "from_day"), [(38.5, 38), (36.5, 36), (20.5, 9), (0.5, None)])
def test_what_comes_late_has_only_what_followed_made_again(path, late, from_day):
    """There are cuts of 1, 3, 7, 14 and 30 days before the newest."""
    with closing(opened(path)) as log:
        told(log, Counting())
        tell(log, late, TOWER)
        again = Counting()
        assert told(log, again) == 41
        wanted = BEFORE_ALL if from_day is None else position_at(log, PLAYER.uuid, us_of(MORNING + from_day * DAY))
        assert again.added[0][0] == wanted


def test_other_rules_and_another_player_are_made_anew(path):
    with closing(opened(path)) as log:
        told(log, Counting())
        other = Counting("other rules")
        told(log, other)
        assert other.added[0][0] == BEFORE_ALL
        with sums_attached(log, TOWER.uuid, (Counting("other rules").part,)):
            pass
        back = Counting("other rules")
        told(log, back)
        assert back.added[0][0] == BEFORE_ALL


def test_sums_of_a_log_with_the_same_entries_in_other_rows_are_made_anew(path):
    """A back-up was restored, row by row: numbers of rows mean something in one file only."""
    with closing(opened(path)) as log:
        told(log, Counting())
        log.execute("DROP TRIGGER IF EXISTS migration_no_update")
        log.execute("UPDATE migration SET applied_utc = '2031'")
        again = Counting()
        told(log, again)
        assert again.added[0][0] == BEFORE_ALL


@pytest.mark.parametrize("content", [b"no database", b"", b"SQLite format 3\x00" + bytes(600)])
def test_a_damaged_file_is_made_again(path, content):
    with closing(opened(path)) as log:
        told(log, Counting())
        Path(sums_place(log)).write_bytes(content)
        assert told(log, Counting()) == told(log, Counting()) == 40


def test_damaged_cuts_count_for_nothing(path):
    with closing(opened(path)) as log:
        told(log, Counting())
        with closing(sqlite3.connect(sums_place(log), isolation_level=None)) as sums:
            sums.execute("UPDATE cut SET cut = x'c1'")
        assert told(log, Counting()) == 40


def test_what_another_program_holds_is_made_in_memory(path):
    with closing(opened(path)) as log:
        told(log, Counting())
        tell(log, 40)
        log.execute("PRAGMA busy_timeout = 1")
        with closing(sqlite3.connect(sums_place(log), isolation_level=None)) as holder:
            holder.execute("BEGIN EXCLUSIVE")
            in_memory = Counting()
            assert told(log, in_memory) == 41
            assert in_memory.added[0][0] == BEFORE_ALL


def test_within_one_with_another_finds_the_same_sums(path):
    with closing(opened(path)) as log, sums_attached(log, PLAYER.uuid, (Counting().part,)):
        with sums_attached(log, PLAYER.uuid, (Counting().part,)):
            pass
        assert log.execute("SELECT COUNT(*) FROM summaries.told").fetchone() == (40,)


def test_how_far_they_go_is_told_without_adding_anything(path):
    with closing(opened(path)) as log:
        with sums_as_they_are(log, PLAYER.uuid, Counting().part) as upto:
            assert upto.position == BEFORE_ALL
        assert not path.with_name(path.name + SUFFIX).exists()
        told(log, Counting())
        newest = us_of(MORNING + 39 * DAY)
        tell(log, 40)
        with sums_as_they_are(log, PLAYER.uuid, Counting().part) as upto:
            assert upto.position.moment_us == newest


def test_a_log_in_memory_has_its_sums_in_memory():
    with closing(open_store(None, now_utc=MORNING)) as log:
        tell(log, 0)
        assert told(log, Counting()) == 1
        assert sums_place(log) == ":memory:"
