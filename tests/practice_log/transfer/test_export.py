"""A player's log as one file for the teacher."""

import json
import sqlite3
import zipfile
from datetime import UTC, datetime, timedelta, timezone

import pytest

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import columns_of
from game.practice_log.transfer.contents import TABLES
from game.practice_log.transfer.export import write_export
from tests.practice_log.logged_takes import PLAYER
from tests.refusing import refusal
from tests.report.month import write_month

NOW = datetime(2026, 6, 1, 12, tzinfo=timezone(timedelta(hours=2)))


@pytest.fixture(scope="module")
def log(tmp_path_factory):
    path = tmp_path_factory.mktemp("month") / "log.sqlite"
    write_month(path)
    with sqlite3.connect(path) as connection:
        yield connection


def test_its_first_member_can_be_read_in_a_text_editor_and_says_what_the_file_holds(log, tmp_path):
    contents = write_export(log, PLAYER, tmp_path / "a.zip", now=NOW)
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        first = archive.infolist()[0]
        told = json.loads(archive.read(first))
        lines = archive.read(first).decode().splitlines()
    assert (first.filename, first.compress_type) == ("contents.json", zipfile.ZIP_STORED)
    assert lines[:3] == ["{", '  "format": "homefret practice export",', '  "version": 1,']
    assert told["player"] == {"uuid": str(PLAYER.uuid), "name": PLAYER.name}
    assert told["days"] == {"first": "2026-11-25", "last": "2026-12-23", "practised": 15}
    assert (told["exported_utc"], told["utc_offset_minutes"]) == ("2026-06-01T10:00:00+00:00", 120)
    assert told["maps"] == [{"position": 5, "tuning": "standard", "read": "guitar"}]
    assert (told["rows"]["take"], contents.rows["take"]) == (45, 45)
    assert told["columns"] == {table: columns_of(log, table) for table in TABLES}


def test_each_further_member_is_a_table_a_row_a_line(log, tmp_path):
    write_export(log, PLAYER, tmp_path / "a.zip", now=NOW)
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        assert archive.namelist() == ["contents.json", *(f"{table}.jsonl" for table in TABLES)]
        rows = [tuple(json.loads(line)) for line in archive.read("verdict.jsonl").splitlines()]
    assert rows == log.execute("SELECT * FROM verdict").fetchall()


def test_nothing_of_another_player_goes_along(tmp_path):
    other = Identity(uuid=PLAYER.uuid.__class__(int=99), name="Ben")
    write_month(tmp_path / "log.sqlite")
    write_month(tmp_path / "log.sqlite", player=other, title="of Ben")
    with sqlite3.connect(tmp_path / "log.sqlite") as both:
        write_export(both, PLAYER, tmp_path / "a.zip", now=NOW.astimezone(UTC))
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        assert b"Ben" not in b"".join(archive.read(name) for name in archive.namelist())
        assert len(archive.read("take.jsonl").splitlines()) == 45


def test_who_never_played_has_nothing_to_export(log, tmp_path):
    with refusal(LogError, "nothing to export"):
        write_export(log, Identity(uuid=PLAYER.uuid.__class__(int=99)), tmp_path / "a.zip", now=NOW)


def test_a_folder_that_is_not_there_is_told_and_no_half_file_left(log, tmp_path):
    with refusal(LogError, "name another"):
        write_export(log, PLAYER, tmp_path / "gone" / "a.zip", now=NOW)
    assert list(tmp_path.iterdir()) == []
