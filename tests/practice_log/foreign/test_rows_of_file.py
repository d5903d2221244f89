"""The rows of known tables, and no others, come out of a file."""

import json
import sqlite3
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.database.known_tables import known_columns
from game.practice_log.foreign import rows_of_file as module
from game.practice_log.foreign.row_lines import FileHead, TableHead, decoded_lines
from game.practice_log.foreign.rows_of_file import rows_of_file
from tests.practice_log.transfer.hostile_files import (
    ENDLESS,
    bomb,
    endless_view,
    log_of,
    members_of,
    packed_up,
    planted,
    told_in_contents,
)
from tests.refusing import refusal


def read(path: Path):
    """The head of a file, and the rows of its tables."""
    tables, head, rows = {}, None, []
    for line in (line for block in decoded_lines(rows_of_file(path)) for line in block):
        if isinstance(line, FileHead):
            head = line
        elif isinstance(line, TableHead):
            rows = tables[line.table] = []
        else:
            rows.append(tuple(line))
    return head, tables


def test_every_table_of_a_log_comes_with_all_its_rows(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 700)
    _, tables = read(path)
    assert set(tables) == set(known_columns())
    with closing(sqlite3.connect(path)) as log, log:
        for table, rows in tables.items():
            assert rows == log.execute(f"SELECT * FROM {table}").fetchall()
    log.close()


def test_what_else_a_log_holds_is_left_behind_and_a_view_without_end_is_never_begun(tmp_path: Path):
    path = planted(
        log_of(tmp_path / "a.sqlite", 2),
        f"CREATE VIEW endless AS {ENDLESS}",
        "CREATE TABLE mine (x)",
        "INSERT INTO mine VALUES (1)",
    )
    head, tables = read(path)
    assert {"endless", "mine"} & set(tables) == set()
    assert len(tables["take"]) == 2
    assert head.migrations[0] == "takes"


def test_a_view_in_the_place_of_a_table_is_never_begun_and_the_file_refused(tmp_path: Path):
    with refusal(LogError, "a.sqlite is damaged: it has no table take"):
        read(endless_view(log_of(tmp_path / "a.sqlite", 2)))


def test_columns_that_are_none_of_ours_are_left_behind(tmp_path: Path):
    path = planted(log_of(tmp_path / "a.sqlite", 1), "ALTER TABLE device ADD COLUMN more TEXT DEFAULT 'x'")
    assert len(read(path)[1]["device"][0]) == 3


def test_an_export_comes_with_its_contents(tmp_path: Path):
    members = members_of(tmp_path / "a.sqlite")
    head, tables = read(packed_up(tmp_path / "b.zip", members))
    assert json.loads(bytes(head.contents)) == json.loads(members["contents.json"])
    assert len(tables["take"]) == 2


def test_there_is_a_bound_on_rows_in_both(tmp_path: Path, monkeypatch):
    members = members_of(tmp_path / "a.sqlite")
    monkeypatch.setattr(module, "MOST_ROWS", 5)
    with refusal(LogError, "more than 5 rows"):
        read(log_of(tmp_path / "b.sqlite", 3))
    with refusal(LogError, "too many rows"):
        read(bomb(tmp_path / "b.zip", members, member="device.jsonl", line=b'[1,"a","b"]\n', times=100))


@pytest.mark.parametrize("cut", [0, 1, 50, 100, 5_000])
def test_a_log_that_is_cut_off_or_no_log_is_refused(tmp_path: Path, cut: int):
    path = log_of(tmp_path / "a.sqlite", 5)
    path.write_bytes(path.read_bytes()[:cut])
    with refusal(LogError, "a.sqlite is (no practice log|damaged)"):
        read(path)


def test_a_damaged_page_is_found_before_anything_is_read(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 300)
    content = bytearray(path.read_bytes())
    content[-4096:] = bytes(byte ^ 0xFF for byte in content[-4096:])
    path.write_bytes(content)
    with refusal(LogError, "damaged"):
        next(rows_of_file(path))


def test_what_is_wrong_with_a_zip_is_told_in_one_sentence(tmp_path: Path):
    members = members_of(tmp_path / "a.sqlite")
    for count, (changed, sentence) in enumerate(
        [
            (told_in_contents(members, format="other"), "no export of Homefret"),
            (members | {"take.jsonl": b"nonsense"}, "damaged"),
            ({"a.txt": b""}, "holds no contents.json"),
            (members | {f"{number}.txt": b"" for number in range(1100)}, "1121 members"),
        ]
    ):
        with refusal(LogError, sentence):
            read(packed_up(tmp_path / f"{count}.zip", changed))


def test_a_zip_that_cannot_be_unpacked_is_told_in_one_sentence(tmp_path: Path):
    (tmp_path / "a.zip").write_bytes(b"PK\x03\x04" + b"x" * 500)
    with refusal(LogError, "a.zip cannot be read"):
        read(tmp_path / "a.zip")
    with zipfile.ZipFile(tmp_path / "b.zip", "w", zipfile.ZIP_LZMA) as archive:
        archive.writestr("contents.json", b"{}" * 100)
    content = bytearray((tmp_path / "b.zip").read_bytes())
    content[60:80] = b"\xff" * 20
    (tmp_path / "b.zip").write_bytes(content)
    with refusal(LogError, "b.zip"):
        read(tmp_path / "b.zip")
