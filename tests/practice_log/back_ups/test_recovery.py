"""A damaged log is put right from a back-up and from what can be read of it, and is always kept."""

import os
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.back_ups.automatic import automatic_back_ups, forget_longer_back_ups, make_back_up
from game.practice_log.back_ups.backup import checked_take_count
from game.practice_log.back_ups.recovery import found_damage, recover
from game.practice_log.database.in_use import InUse
from game.practice_log.database.soundness import DamageKind, damage_of
from game.practice_log.database.store import open_store
from game.practice_log.database.take_mark import keep_take_count
from game.practice_log.rows.take_rows import put_take
from game.text.catalogue import tell
from tests.practice_log.logged_takes import DEVICE, begun
from tests.practice_log.transfer.damaged_files import cut_off, first_page_of, flip
from tests.practice_log.transfer.hostile_files import ENDLESS, log_of, planted
from tests.refusing import refusal

NOW = datetime(2026, 12, 2, 9, tzinfo=UTC)
YESTERDAY = date(2026, 12, 1)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log of five takes, of which three are in the back-up of yesterday."""
    path = log_of(tmp_path / "practice.sqlite", 3)
    make_back_up(path, YESTERDAY)
    path.unlink()
    return log_of(path, 5)


def back_up_of(log: Path) -> Path:
    return automatic_back_ups(log)[0].path


def test_nothing_is_found_where_nothing_is_wrong(log: Path, tmp_path: Path):
    assert found_damage(log) is None
    assert found_damage(tmp_path / "new" / "practice.sqlite") is None


def test_what_is_wrong_is_found_with_the_newest_back_up(log: Path):
    found = found_damage(flip(log, 5))
    assert (found.damage.kind, found.readable, found.usable) == (DamageKind.BROKEN, True, False)
    assert (found.back_up.day, found.back_up.takes) == (YESTERDAY, 3)


@pytest.mark.parametrize(
    ("content", "readable"),
    [(b"nonsense" * 1000, False), (b"\xff" * 8192, True), (b"\xff" * 4096, False)],
    ids=["text", "two pages", "one page"],
)
def test_what_may_be_a_log_whose_first_page_is_gone_is_worth_a_try(log: Path, content: bytes, readable: bool):
    log.write_bytes(content)
    found = found_damage(log)
    assert (found.damage.kind, found.readable) == (DamageKind.NO_LOG, readable)


def test_a_log_whose_first_page_is_gone_comes_back_whole(log: Path):
    assert found_damage(flip(log, 1)).readable
    done = recover(log, back_up=None, with_readable=True, now=NOW)
    assert (done.takes, done.salvaged.takes_lost, damage_of(log)) == (5, 0, None)


def test_a_log_that_a_game_plays_into_was_looked_at_by_that(log: Path):
    playing = InUse(flip(log, 5))
    assert found_damage(log) is None
    playing.end()


def test_where_nothing_can_be_locked_it_is_looked_at_all_the_same(log: Path):
    log.with_name("practice.sqlite.in-use").mkdir()
    assert found_damage(log) is None
    assert found_damage(flip(log, 5)).damage.kind is DamageKind.BROKEN


@pytest.mark.parametrize("left", [None, 0, 2])
def test_a_log_that_is_gone_or_lacks_takes_of_the_back_up_is_found_and_can_be_used(log: Path, left: int | None):
    log.unlink()
    if left:
        log_of(log, left)
    elif left == 0:
        log.touch()
    found = found_damage(log)
    assert (found.damage.kind, found.usable) == (DamageKind.SHORTER, True)
    assert dict(found.damage.told.values)["count"] == 3 - (left or 0)


def test_takes_that_were_in_the_log_and_in_no_back_up_are_missed_too(log: Path):
    """As where the journal is gone: what is left hangs together."""
    with closing(open_store(log, now_utc=NOW)) as connection:
        keep_take_count(log, connection)
    log.unlink()
    log_of(log, 4)
    found = found_damage(log)
    assert (found.damage.kind, found.usable, found.back_up) == (DamageKind.SHORTER, True, None)
    assert tell(found.damage.told) == "the practice log lacks 1 take that was written to it"
    forget_longer_back_ups(log)
    assert found_damage(log) is None


def test_of_a_damaged_log_what_can_be_read_takes_its_place_and_its_bytes_are_kept(log: Path):
    before = flip(log, first_page_of(log, "take_by_day")).read_bytes()
    done = recover(log, back_up=None, with_readable=True, now=NOW)
    assert (done.takes, done.salvaged.takes_lost, done.salvaged.takes_in_part) == (5, 0, 0)
    assert done.kept.name == "practice-damaged-20261202T090000000000.sqlite"
    assert done.kept.read_bytes() == before
    assert (checked_take_count(log), damage_of(log)) == (5, None)


def test_from_a_back_up_alone(log: Path):
    log.write_bytes(b"nonsense" * 1000)
    done = recover(log, back_up=back_up_of(log), with_readable=False, now=NOW)
    assert (done.takes, done.salvaged, done.kept.read_bytes()) == (3, None, b"nonsense" * 1000)


def test_where_nothing_can_be_read_the_back_up_alone_does(log: Path):
    cut_off(log, 3000)
    done = recover(log, back_up=back_up_of(log), with_readable=True, now=NOW)
    assert (done.takes, done.salvaged, checked_take_count(log)) == (3, None, 3)


def test_and_without_one_everything_stays_as_it_is(log: Path):
    before = cut_off(log, 3000).read_bytes()
    with refusal(LogError, "nothing of .* can be read"):
        recover(log, back_up=None, with_readable=True, now=NOW)
    assert log.read_bytes() == before
    assert not list(log.parent.glob("*damaged*"))


def test_the_back_up_with_what_can_be_read_of_the_log(log: Path):
    flip(log, first_page_of(log, "take_by_bars"))
    done = recover(log, back_up=back_up_of(log), with_readable=True, now=NOW)
    assert (done.takes, done.salvaged.takes_lost, checked_take_count(log)) == (5, 0, 5)


def test_takes_that_only_one_of_them_holds_are_all_there(log: Path):
    log.unlink()
    log_of(log, 2, from_minute=30)
    flip(log, first_page_of(log, "take_by_bars"))
    assert recover(log, back_up=back_up_of(log), with_readable=True, now=NOW).takes == 5
    assert checked_take_count(log) == 5


def test_takes_that_are_in_neither_are_counted(log: Path):
    with closing(open_store(log, now_utc=NOW)) as connection:
        keep_take_count(log, connection)
        connection.execute("PRAGMA journal_mode = DELETE")
    done = recover(cut_off(log, 3000), back_up=back_up_of(log), with_readable=True, now=NOW)
    assert (done.takes, done.takes_lost) == (3, 2)


def test_what_was_planted_is_left_behind_in_the_file_that_is_kept(log: Path):
    planted(log, f"CREATE VIEW endless AS {ENDLESS}")
    done = recover(log, back_up=None, with_readable=True, now=NOW)
    assert damage_of(log) is None
    assert damage_of(done.kept).kind is DamageKind.PLANTED


def test_a_journal_that_does_not_belong_to_the_log_is_kept_beside_the_file_of_before(log: Path, tmp_path: Path):
    (tmp_path / "other").mkdir()
    with closing(open_store(log_of(tmp_path / "other" / "b.sqlite", 40, from_minute=50), now_utc=NOW)) as other:
        put_take(other, begun(minutes=99), DEVICE)
        journal = (tmp_path / "other" / "b.sqlite-wal").read_bytes()
    log.with_name("practice.sqlite-wal").write_bytes(journal)
    assert found_damage(log).damage.kind is DamageKind.FOREIGN_JOURNAL
    done = recover(log, back_up=None, with_readable=True, now=NOW)
    assert (done.takes, damage_of(log)) == (5, None)
    assert done.kept.with_name(f"{done.kept.name}-wal").read_bytes() == journal


def test_what_is_no_file_is_moved_away(log: Path):
    log.unlink()
    os.mkfifo(log)
    done = recover(log, back_up=back_up_of(log), with_readable=False, now=NOW)
    assert (checked_take_count(log), done.kept.is_fifo()) == (3, True)


def test_a_new_log_begins_where_nothing_is_wanted_of_the_old_one(log: Path):
    before = log.write_bytes(b"nonsense" * 1000)
    done = recover(log, back_up=None, with_readable=False, now=NOW)
    assert (done.takes, checked_take_count(log), done.kept.stat().st_size) == (0, 0, before)
    assert found_damage(log) is None


def test_nothing_is_put_right_under_a_game_that_plays(log: Path):
    playing = InUse(flip(log, 5))
    with refusal(LogError, "the game is open"):
        recover(log, back_up=back_up_of(log), with_readable=True, now=NOW)
    playing.end()


def test_all_that_is_left_is_what_was_there_and_the_log(log: Path):
    there = {file.name for file in log.parent.iterdir()}
    done = recover(flip(log, 5), back_up=back_up_of(log), with_readable=True, now=NOW)
    left = {file.name for file in log.parent.iterdir()} - there
    assert left <= {done.kept.name, "practice.sqlite.in-use", "player.json", "device.json"}
