"""An export is read back as it was written; one that was tampered with, or is damaged, is told of in one sentence."""

import json
import sqlite3
import zipfile
from contextlib import closing
from datetime import UTC, date, datetime

import pytest

from game.errors import LogError
from game.practice_log.foreign.read_export import read_export
from game.practice_log.transfer.contents import TABLES
from game.practice_log.transfer.export import Exported, write_export
from game.text.catalogue import tell
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import told
from tests.practice_log.transfer.tables_export import write_tables
from tests.refusing import refusal
from tests.report.month import write_month

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def month(tmp_path_factory):
    """A log of a month, and the members of its export by their names."""
    folder = tmp_path_factory.mktemp("month")
    write_month(folder / "log.sqlite")
    with closing(sqlite3.connect(folder / "log.sqlite")) as log, log:
        write_tables(log, PLAYER, folder / "a.zip", now=NOW)
        with zipfile.ZipFile(folder / "a.zip") as archive:
            yield log, {name: archive.read(name) for name in archive.namelist()}


def packed(folder, members):
    with zipfile.ZipFile(folder / "x.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return folder / "x.zip"


def told_otherwise(members, **fields):
    """The same export, but `contents.json` says something else."""
    contents = json.loads(members["contents.json"]) | fields
    return members | {"contents.json": json.dumps(contents).encode()}


def test_every_table_comes_back_row_by_row(month, tmp_path):
    log, members = month
    connection, contents = read_export(packed(tmp_path, members))
    for table, condition in TABLES.items():
        rows = log.execute(f"SELECT * FROM {table} WHERE {condition}", {"player": 1}).fetchall()
        assert connection.execute(f"SELECT * FROM {table}").fetchall() == rows
    connection.close()
    assert (contents.player, contents.utc_offset_minutes, contents.takes) == (PLAYER, 0, 45)
    assert contents.days == ("2026-11-25", "2026-12-23")


def test_an_older_export_without_some_tables_and_columns_is_read(month, tmp_path):
    _, members = month
    columns = json.loads(members["contents.json"])["columns"]
    older = {name: content for name, content in members.items() if name != "revised.jsonl"}
    del columns["revised"]
    connection, _ = read_export(packed(tmp_path, told_otherwise(older, columns=columns)))
    assert connection.execute("SELECT count(*) FROM take").fetchone() == (45,)
    connection.close()


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"format": "other\nprogram"}, "no export of Homefret: it says it is 'other program'"),
        ({"format": 7}, "no export of Homefret: it says it is '7'"),
        ({"version": 3}, "newer Homefret"),
        ({"version": "2"}, "newer Homefret"),
        ({"migrations": ["from_2031"]}, "newer Homefret"),
        ({"player": None}, r"damaged \(.*player"),
        ({"player": {"uuid": "x", "name": "Ada"}}, "damaged"),
        ({"exported_utc": "noon"}, "damaged"),
        ({"utc_offset_minutes": "an hour"}, "damaged"),
        ({"rows": {}}, r"damaged \(.*take"),
        ({"columns": None}, "damaged"),
        ({"columns": {"take": ["take", "take"]}}, "columns of take that are none"),
        ({"columns": {"take": ["take); DROP TABLE take; --"]}}, "columns of take that are none"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_contents_that_are_none_of_ours_are_told_in_one_sentence(month, tmp_path, fields, sentence):
    _, members = month
    with refusal(LogError, sentence) as caught:
        read_export(packed(tmp_path, told_otherwise(members, **fields)))
    assert "\n" not in tell(caught.value.message)


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        ("contents.json", b"[]", "damaged"),
        ("contents.json", b"{", "damaged"),
        ("contents.json", b"{}", "damaged"),
        ("contents.json", b" " * 1_000_001, "too long"),
        ("verdict.jsonl", b'{"no": "row"}\n', "a row that is none"),
        ("verdict.jsonl", b"[1]\n", "Incorrect number of bindings"),
        ("verdict.jsonl", b'[999, 1, "clean", null, 0, null, null]\n', "rows refer to others"),
        ("verdict.jsonl", b'[1, 1, "clean", null, null, null, null]\n', "NOT NULL constraint"),
        ("verdict.jsonl", b'[1, 1, ["clean"], null, 0, null, null]\n', "damaged .*array"),
        ("verdict.jsonl", b"[1, 1180591620717411303424]\n", "damaged"),
    ],
)
def test_a_member_that_is_none_of_ours_is_told_in_one_sentence(month, tmp_path, name, content, sentence):
    _, members = month
    with refusal(LogError, sentence):
        read_export(packed(tmp_path, members | {name: content}))


def test_a_zip_without_contents_is_no_export(tmp_path):
    with refusal(LogError, "no export of Homefret: it holds no contents.json"):
        read_export(packed(tmp_path, {"letter.txt": b"hello"}))


def test_a_file_that_is_cut_off_or_whose_bytes_were_changed_on_the_way_cannot_be_read(month, tmp_path):
    _, members = month
    path = packed(tmp_path, members)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    with refusal(LogError, "cannot be read"):
        read_export(path)
    middle = len(whole) // 2
    path.write_bytes(whole[:middle] + bytes(byte ^ 0xFF for byte in whole[middle : middle + 40]) + whole[middle + 40 :])
    with refusal(LogError, "cannot be read"):
        read_export(path)


def test_text_that_people_will_see_is_made_clean(month, tmp_path):
    _, members = month
    bars = members["bars.jsonl"].decode().splitlines()
    row = json.loads(bars[0])
    row[2] = "a\ttitle\n\N{RIGHT-TO-LEFT OVERRIDE}backwards"
    hostile = "\n".join([json.dumps(row), *bars[1:]]).encode()
    connection, _ = read_export(packed(tmp_path, members | {"bars.jsonl": hostile}))
    assert connection.execute("SELECT title FROM bars ORDER BY bars").fetchone() == ("a title backwards",)
    connection.close()


def exported(month, tmp_path, **what):
    log, _ = month
    write_export(log, PLAYER, tmp_path / "now.zip", now=NOW, what=Exported(**what))
    return tmp_path / "now.zip"


def test_an_export_of_today_comes_back_entry_by_entry(month, tmp_path):
    log, _ = month
    connection, contents = read_export(exported(month, tmp_path))
    assert (contents.player, contents.utc_offset_minutes, contents.takes) == (PLAYER, 0, 45)
    assert contents.days == ("2026-11-25", "2026-12-23")
    assert told(connection) == told(log)
    connection.close()


def test_one_without_notes_and_since_a_day_is_read_too(month, tmp_path):
    path = exported(month, tmp_path, since=date(2026, 12, 20), with_notes=False)
    connection, contents = read_export(path)
    assert (contents.takes, contents.days) == (6, ("2026-12-21", "2026-12-23"))
    assert connection.execute("SELECT (SELECT COUNT(*) FROM played), COUNT(*) > 0 FROM verdict").fetchone() == (0, 1)
    connection.close()


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        ("entries.jsonl", b"[1]\n", "1 lines make no sense"),
        ("entries.jsonl", b"x" * 4_100_000, "without end"),
        ("contents.json", b'{"format": "homefret practice export", "version": 2}', "damaged"),
    ],
    ids=["no line", "endless line", "no player"],
)
def test_an_export_of_today_that_was_tampered_with_is_told_in_one_sentence(month, tmp_path, name, content, sentence):
    with zipfile.ZipFile(exported(month, tmp_path)) as archive:
        members = {member: archive.read(member) for member in archive.namelist()}
    with refusal(LogError, sentence):
        read_export(packed(tmp_path, members | {name: content}))
