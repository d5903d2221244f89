"""Files from elsewhere are read by a child with limits; what is no file is never opened."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.foreign.limited_child import MOST_OF_A_FRAME
from game.practice_log.foreign.limited_reading import (
    ReadingLimits,
    limited_lines,
    limits_for,
)
from game.practice_log.foreign.plain_files import is_packed, refuse_no_plain_file
from game.text.catalogue import tell
from tests.practice_log.transfer.hostile_files import bomb, log_of, members_of, no_plain_files, packed_up
from tests.prepared_limits import PREPARED_LIMITS
from tests.refusing import refusal


@pytest.fixture(autouse=True)
def interpreters_of_their_own(monkeypatch):
    """As in the game."""
    monkeypatch.setattr(PREPARED_LIMITS, "on", False)


def lines_of(path: Path, **limits) -> list[bytes]:
    return b"".join(limited_lines(path, "rows", **limits)).splitlines()


def test_what_is_in_a_log_comes_as_lines(tmp_path: Path):
    lines = lines_of(log_of(tmp_path / "a.sqlite", 3))
    assert b'"file"' in lines[0]
    start = next(index for index, line in enumerate(lines) if b'"take"' in line and b'"columns"' in line)
    assert [line.split(b",")[0] for line in lines[start + 1 : start + 4]] == [b"[1", b"[2", b"[3"]


def test_a_copy_of_a_child_that_was_made_before_answers_the_same_and_is_ended_as_well(tmp_path: Path, monkeypatch):
    path = log_of(tmp_path / "a.sqlite", 3)
    by_a_new_one = lines_of(path)
    monkeypatch.setattr(PREPARED_LIMITS, "on", True)
    assert lines_of(path) == by_a_new_one
    with refusal(LogError, "could not be read within"):
        lines_of(path, limits=ReadingLimits(cpu_s=10, wall_s=0.0, most_bytes=1_000_000))


@pytest.mark.parametrize("kind", ["a pipe", "a folder", "a socket", "a device"])
def test_what_is_no_plain_file_is_told_by_its_kind_and_never_opened(tmp_path: Path, kind: str):
    path = no_plain_files(tmp_path)[kind]
    for asked in (refuse_no_plain_file, is_packed, lines_of):
        with refusal(LogError, f"{path.name} is {kind}, no file"):
            asked(path)


def test_a_file_that_is_not_there_is_said(tmp_path: Path):
    with refusal(LogError, "there is no file"):
        lines_of(tmp_path / "none.zip")
    with refusal(LogError, "there is no file|cannot be opened"):
        lines_of(tmp_path / ("x" * 5000))


def test_an_export_is_told_from_a_log_by_its_first_bytes_and_not_by_its_name(tmp_path: Path):
    assert not is_packed(log_of(tmp_path / "a.zip", 1))
    assert is_packed(packed_up(tmp_path / "b.sqlite", {"a": b""}))


def test_more_than_the_size_of_a_file_allows_is_refused(tmp_path: Path):
    members = members_of(tmp_path / "a.sqlite")
    large = bomb(tmp_path / "b.zip", members, member="device.jsonl", line=b'[1,"a","b"]\n', times=500_000)
    assert large.stat().st_size < 100_000
    with refusal(LogError, r"b.zip holds far more than its size allows \(over 2 MB\)"):
        lines_of(large, limits=ReadingLimits(cpu_s=20, wall_s=60.0, most_bytes=2_000_000))


def test_a_file_of_a_newer_program_is_named_in_a_short_sentence_however_much_it_says(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 3)
    new = [
        ("INSERT INTO migration (name, applied_utc) VALUES (?, '')", f"of tomorrow {number}") for number in range(500)
    ]
    with closing(sqlite3.connect(path)) as log:
        for statement, name in new:
            log.execute(statement, (name,))
        log.commit()
    with refusal(LogError, "a.sqlite was written by a newer Homefret") as refused:
        lines_of(path)
    assert len(tell(refused.value.message)) < 200


def test_a_child_that_takes_too_long_is_ended_and_that_is_said(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 3)
    with refusal(LogError, "a.sqlite could not be read within 0 seconds"):
        lines_of(path, limits=ReadingLimits(cpu_s=10, wall_s=0.0, most_bytes=1_000_000))


def test_a_child_that_is_ended_by_the_system_is_told_in_one_sentence(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 3)
    with refusal(LogError, "could not be read within"):
        lines_of(path, limits=ReadingLimits(cpu_s=0, wall_s=60.0, most_bytes=1_000_000))


def test_limits_grow_with_the_file_and_output_has_an_end():
    small, large = limits_for(1_000), limits_for(100_000_000)
    assert small.wall_s < 30
    assert (large.cpu_s, large.wall_s) > (small.cpu_s, small.wall_s)
    assert limits_for(10**12).most_bytes == 2_000_000_000
    assert limits_for(0).most_bytes > MOST_OF_A_FRAME
