"""The members of an export are opened with caps, and an export of before gets its entries."""

import json
import zipfile
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.foreign import export_members as module
from game.practice_log.foreign.export_contents import export_contents
from game.practice_log.foreign.export_members import export_rows
from game.practice_log.foreign.row_lines import FileHead, decoded_lines
from tests.practice_log.transfer.hostile_files import members_of, packed_up, told_in_contents
from tests.refusing import refusal


@pytest.fixture(scope="module")
def members(tmp_path_factory) -> dict[str, bytes]:
    return members_of(tmp_path_factory.mktemp("export") / "a.sqlite")


def lines_of(path: Path, most_rows: int = 10_000) -> list:
    with zipfile.ZipFile(path) as archive:
        return [line for block in decoded_lines(export_rows(archive, path.name, most_rows=most_rows)) for line in block]


def test_without_entries_an_export_is_one_of_before_they_came(tmp_path: Path, members):
    columns = {name: some for name, some in json.loads(members["contents.json"])["columns"].items() if name != "entry"}
    head = lines_of(packed_up(tmp_path / "a.zip", told_in_contents(members, columns=columns)))[0]
    assert isinstance(head, FileHead)
    assert head.migrations == [migration.name for migration in MIGRATIONS][:4]


def test_text_that_people_will_see_is_made_clean(tmp_path: Path, members):
    hostile = members | {"player.jsonl": b'[1, "5a0c5b36", "A\\u202eda\\n"]\n'}
    assert [1, "5a0c5b36", "Ada"] in lines_of(packed_up(tmp_path / "a.zip", hostile))


@pytest.mark.parametrize(
    "columns", [{"take": ["take", "take"]}, {"take": ["take); DROP TABLE take; --"]}, {"device": ["nothing"]}]
)
def test_columns_that_are_none_of_ours_are_refused(tmp_path: Path, members, columns):
    with pytest.raises(ValueError, match="that are none"):
        lines_of(packed_up(tmp_path / "a.zip", told_in_contents(members, columns=columns)))


def test_there_is_a_bound_on_rows(tmp_path: Path, members):
    with pytest.raises(ValueError, match="too many rows"):
        lines_of(packed_up(tmp_path / "a.zip", members), most_rows=3)


def test_contents_are_read_up_to_a_bound_whatever_size_the_archive_says(tmp_path: Path):
    path = packed_up(tmp_path / "a.zip", {"contents.json": b" " * 2_000_000})
    lying = bytearray(path.read_bytes())
    size = (2_000_000).to_bytes(4, "little")
    for at in (lying.index(size), lying.rindex(size)):
        lying[at : at + 4] = (100).to_bytes(4, "little")
    path.write_bytes(lying)
    with zipfile.ZipFile(path) as archive, pytest.raises((LogError, zipfile.BadZipFile, ValueError)):
        export_contents(archive, "a.zip")
    long = packed_up(tmp_path / "b.zip", {"contents.json": b" " * 2_000_000})
    with zipfile.ZipFile(long) as archive, refusal(LogError, "too long"):
        export_contents(archive, "b.zip")


def test_members_that_say_they_are_far_too_large_are_refused(tmp_path: Path, members, monkeypatch):
    monkeypatch.setattr(module, "MAX_BYTES", 1000)
    with refusal(LogError, "holds more than"):
        lines_of(packed_up(tmp_path / "a.zip", members))
