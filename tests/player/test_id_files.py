"""Ids are kept one a line; a damaged file and a disk that refuses change nothing else."""

import re

from hypothesis import given
from hypothesis import strategies as st

from game.player.id_files import MOST_BYTES, read_ids, write_ids

ID = re.compile(r"[0-9a-f]{4}")


@given(st.lists(st.from_regex(r"\A[0-9a-f]{4}\Z")))
def test_ids_come_back_in_their_order(tmp_path_factory, ids):
    path = tmp_path_factory.mktemp("ids") / "met.txt"
    write_ids(path, ids)
    assert read_ids(path, ID) == tuple(ids)


def test_nothing_was_kept_yet(tmp_path):
    assert read_ids(tmp_path / "met.txt", ID) == ()


@given(st.binary())
def test_whatever_a_damaged_file_holds_only_ids_are_read(tmp_path_factory, content):
    path = tmp_path_factory.mktemp("ids") / "met.txt"
    path.write_bytes(b"00ff\n" + content + b"\nnone\n")
    ids = read_ids(path, ID)
    assert ids[0] == "00ff"
    assert all(ID.fullmatch(one) for one in ids)


def test_a_huge_file_is_read_to_a_bound(tmp_path):
    path = tmp_path / "met.txt"
    path.write_bytes(b"00ff\n" * (MOST_BYTES // 5) + b"beef\n")
    assert "beef" not in read_ids(path, ID)


def test_what_is_written_takes_the_place_of_what_was_there_and_leaves_no_draft(tmp_path):
    path = tmp_path / "new folder" / "met.txt"
    write_ids(path, ["00ff", "beef"])
    write_ids(path, ["dead"])
    assert read_ids(path, ID) == ("dead",)
    assert [file.name for file in path.parent.iterdir()] == ["met.txt"]


def test_a_disk_that_refuses_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "met.txt"
    write_ids(path, ["00ff"])
    monkeypatch.setattr("pathlib.Path.replace", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left")))
    write_ids(path, ["beef"])
    assert read_ids(path, ID) == ("00ff",)
