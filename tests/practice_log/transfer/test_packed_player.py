"""Whose export a file is, is told by its first bytes, and nothing else is opened."""

import json
import os
import zipfile
from uuid import UUID

import pytest

from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.transfer.contents import CONTENTS, FORMAT
from game.practice_log.transfer.export import write_export
from game.practice_log.transfer.packed_player import said_by_export
from tests.practice_log.logged_takes import MORNING
from tests.practice_log.old_logs.unpacking import FACTS, LOG, unpacked

ADA = UUID("5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11")
OURS = {"format": FORMAT, "player": {"uuid": str(ADA), "name": "Ada"}}


def packed(path, contents, *, how=zipfile.ZIP_STORED, name=CONTENTS):
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(name, contents if isinstance(contents, str) else json.dumps(contents), compress_type=how)
        archive.writestr("entries.jsonl", "{}")
    return path


def test_exports_of_today_and_of_before_tell_whose_they_are(tmp_path):
    folder = unpacked("damaged", tmp_path)
    (player,) = FACTS["two_weeks"]["players"]
    assert said_by_export(folder / "two_weeks.zip").player.uuid == player
    with opened_log(folder / LOG) as log:
        write_export(log, log_owner(log, folder / LOG, ""), folder / "today.zip", now=MORNING)
    assert said_by_export(folder / "today.zip").player.uuid == player


@pytest.mark.parametrize(
    "how",
    [
        {"contents": OURS | {"format": "another"}},
        {"contents": OURS | {"player": 5}},
        {"contents": "[" * 100_000},
        {"contents": json.dumps(OURS) + " " * 1_000_000},
        {"contents": OURS, "how": zipfile.ZIP_DEFLATED},
        {"contents": OURS, "name": "other.json"},
    ],
    ids=["another format", "no player", "nested", "too long", "packed", "another name"],
)
def test_a_zip_that_is_none_of_ours_is_nobodys(tmp_path, how):
    assert said_by_export(packed(tmp_path / "a.zip", **how)) is None
    assert said_by_export(packed(tmp_path / "b.zip", OURS)).player.uuid == str(ADA)


@pytest.mark.parametrize("length", [0, 1, 4, 29, 30, 60])
def test_a_file_that_is_cut_off_is_nobodys(tmp_path, length):
    whole = packed(tmp_path / "a.zip", OURS).read_bytes()
    (tmp_path / "a.zip").write_bytes(whole[:length])
    assert said_by_export(tmp_path / "a.zip") is None


def test_what_is_no_plain_file_is_not_opened(tmp_path):
    """A pipe would wait for ever; a link may lead anywhere."""
    os.mkfifo(tmp_path / "pipe.zip")
    (tmp_path / "folder.zip").mkdir()
    packed(tmp_path / "a", OURS)
    (tmp_path / "link.zip").symlink_to(tmp_path / "a")
    assert [said_by_export(tmp_path / f"{name}.zip") for name in ("pipe", "folder", "link")] == [None] * 3
    assert said_by_export(tmp_path / "none.zip") is None
