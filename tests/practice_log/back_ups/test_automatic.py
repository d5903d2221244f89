"""Back-ups that are made by themselves: one a day at most, checked, and old ones go."""

import os
import stat
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.back_ups.automatic import (
    FOLDER,
    automatic_back_ups,
    back_up_due,
    comparable,
    forget_longer_back_ups,
    is_suspect,
    kept_days,
    main,
    make_back_up,
)
from game.practice_log.back_ups.backup import checked_take_count
from game.practice_log.database.store import open_store
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, begun
from tests.practice_log.transfer.damaged_files import flip, pages_of
from tests.practice_log.transfer.hostile_files import log_of
from tests.refusing import refusal

TODAY = date(2026, 12, 1)
DAY = timedelta(days=1)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return log_of(tmp_path / "practice.sqlite", 3)


def play(log: Path, minutes: int) -> None:
    """One more take, written after all that is there."""
    store = open_store(log, now_utc=MORNING)
    put_take(store, begun(minutes=minutes), DEVICE)
    store.close()
    later = 2 * minutes + max((one.path.stat().st_mtime for one in automatic_back_ups(log)), default=0)
    os.utime(log, (later, later))


def test_a_back_up_is_a_sound_log_whose_name_tells_its_day_and_its_takes(log: Path):
    made = make_back_up(log, TODAY)
    assert made.path == log.parent / FOLDER / "practice-2026-12-01-3-takes.sqlite"
    assert (made.day, made.takes, checked_take_count(made.path)) == (TODAY, 3, 3)
    assert automatic_back_ups(log) == (made,)
    assert [file.name for file in made.path.parent.iterdir()] == [made.path.name]


def test_it_is_for_its_owner_alone(log: Path):
    made = make_back_up(log, TODAY)
    assert stat.S_IMODE(made.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(made.path.parent.stat().st_mode) == 0o700


def test_one_a_day_is_enough_and_none_is_made_when_nothing_is_new(log: Path):
    make_back_up(log, TODAY)
    assert not back_up_due(log, TODAY)
    assert not back_up_due(log, TODAY + DAY)
    assert make_back_up(log, TODAY + DAY) is None
    play(log, 9)
    assert not back_up_due(log, TODAY)
    assert back_up_due(log, TODAY + DAY)
    assert make_back_up(log, TODAY + DAY).takes == 4


def test_while_a_game_plays_into_it_the_newest_takes_are_in_it_too(log: Path):
    store = open_store(log, now_utc=MORNING)
    put_take(store, begun(minutes=5), DEVICE)
    assert make_back_up(log, TODAY).takes == 4
    store.close()


def test_a_log_that_is_not_sound_is_not_backed_up_and_nothing_goes(log: Path):
    made = make_back_up(log, TODAY)
    play(log, 9)
    flip(log, pages_of(log) - 1)
    os.utime(log)
    with refusal(LogError, "damaged|malformed"):
        make_back_up(log, TODAY + DAY)
    assert automatic_back_ups(log) == (made,)


def test_a_log_that_has_lost_takes_is_not_backed_up(log: Path):
    made = make_back_up(log, TODAY)
    log.unlink()
    log_of(log, 1)
    os.utime(log, (made.path.stat().st_mtime + 5,) * 2)
    assert make_back_up(log, TODAY + DAY) is None
    assert automatic_back_ups(log) == (made,)


def test_but_one_in_the_place_of_another_is(log: Path):
    made = make_back_up(log, TODAY)
    os.utime(made.path, (1, 1))
    log.unlink()
    log_of(log, 1)
    assert comparable(log) == (made,)
    forget_longer_back_ups(log)
    assert comparable(log) == ()
    assert make_back_up(log, TODAY + DAY).takes == 1


def test_without_a_log_none_is_due(tmp_path: Path):
    assert not back_up_due(tmp_path / "practice.sqlite", TODAY)


def test_where_the_folder_cannot_be_written_that_is_said(log: Path):
    (log.parent / FOLDER).write_text("in the way", encoding="utf-8")
    with refusal(LogError, "cannot be copied"):
        make_back_up(log, TODAY)


def test_what_else_lies_in_the_folder_is_no_back_up(log: Path):
    folder = log.parent / FOLDER
    folder.mkdir()
    for name in (
        "practice-2026-13-01-3-takes.sqlite",
        "other-2026-12-01-3-takes.sqlite",
        "practice-2026-12-01-3-takes.sqlite.unfinished",
    ):
        (folder / name).touch()
    (folder / "practice-2026-12-01-9-takes.sqlite").mkdir()
    assert automatic_back_ups(log) == ()


def test_of_years_of_back_ups_the_newest_three_and_one_a_week_for_four_weeks_are_kept():
    kept = kept_days(TODAY - number * DAY for number in range(400))
    assert sorted((TODAY - day).days for day in kept) == [0, 1, 2, 3, 9, 16, 23]


def test_with_gaps_between_days_the_newest_of_each_week_is_kept():
    ago = [0, 9, 20, 23, 24, 31, 60, 100, 200]
    kept = kept_days(TODAY - number * DAY for number in ago)
    assert sorted((TODAY - day).days for day in kept) == [0, 9, 20, 23, 31, 60, 100]
    assert kept_days([]) == frozenset()


def test_what_is_not_kept_goes_when_a_new_one_was_made(log: Path):
    for number in range(12):
        play(log, 20 + number)
        make_back_up(log, TODAY + number * DAY)
    assert [(one.day - TODAY).days for one in automatic_back_ups(log)] == [11, 10, 9, 8, 5]


def test_a_process_of_its_own_makes_it(log: Path):
    command = [sys.executable, "-m", "game.practice_log.back_ups.automatic", str(log), TODAY.isoformat()]
    assert subprocess.run(command, check=True, capture_output=True).stderr == b""
    assert [one.takes for one in automatic_back_ups(log)] == [3]


def test_where_it_comes_to_nothing_the_log_is_suspect_until_one_is_made(log: Path):
    flip(log, pages_of(log) - 1)
    assert main(log, TODAY) == 1
    assert is_suspect(log)
    flip(log, pages_of(log) - 1)
    assert main(log, TODAY) == 0
    assert not is_suspect(log)
