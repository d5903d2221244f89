"""What lies in a teacher's folder is found, and nothing else is looked at."""

import os

import pytest

from game.errors import LogError
from game.practice_log.classes import class_folder
from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_folder import DEEPEST, found_in
from tests.refusing import refusal


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "class" / "monday").mkdir(parents=True)
    for name in ("b.zip", "monday/A.ZIP", "log.sqlite", "notes.txt", ".hidden.zip", "open.zip.unfinished"):
        (tmp_path / "class" / name).write_bytes(b"x")
    return tmp_path / "class"


def _names(folder, passed_over=None):
    return [file.name for file in found_in(folder, passed_over or folder / "none").files]


def test_exports_and_logs_are_found_below_too_and_drafts_and_hidden_files_are_not(folder):
    assert _names(folder) == ["b.zip", "log.sqlite", "monday/A.ZIP"]


def test_an_export_that_was_unpacked_or_is_in_the_cloud_alone_is_told(folder):
    for name in ("Ada/contents.json", "Ada/entries.jsonl", "photos/contents.json", "export (1).jsonl"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(b"{}")
    for name in (".Ben.zip.icloud", ".holiday.jpg.icloud", ".DS_Store", "._Cem.zip"):
        (folder / name).write_bytes(b"x")
    told = [dict(fault.values) for fault in found_in(folder, folder / "none").faults]
    assert told == [{"file": "Ben.zip"}, {"folder": "Ada"}, {"file": "export (1).jsonl"}]
    assert _names(folder) == ["b.zip", "log.sqlite", "monday/A.ZIP"]


def test_the_class_itself_another_class_and_links_to_folders_are_passed_over(folder, tmp_path):
    for name in ("class.sqlite", "other.sqlite"):
        with open_class(folder / name):
            pass
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "c.zip").write_bytes(b"x")
    (folder / "link").symlink_to(tmp_path / "elsewhere")
    (folder / "round").symlink_to(folder)
    assert _names(folder, folder / "class.sqlite") == ["b.zip", "log.sqlite", "monday/A.ZIP"]


def test_the_journal_of_a_log_counts_with_it(folder):
    before = found_in(folder, folder / "none").files[1]
    (folder / "log.sqlite-wal").write_bytes(b"xyz")
    assert found_in(folder, folder / "none").files[1].size_bytes == before.size_bytes + 3


def test_marks_of_who_was_erased_are_found_wherever_they_lie(folder):
    (folder / "monday" / "erased-0123.json").write_text("{}", encoding="ascii")
    (folder / "erased-4567.json").write_text("{}", encoding="ascii")
    found = found_in(folder, folder / "none")
    assert found.marks == {"erased-0123.json": {"monday"}, "erased-4567.json": {""}}


def test_a_mark_counts_in_its_own_folder_and_below_alone(folder):
    (folder / "monday" / "deep").mkdir()
    (folder / "mondays").mkdir()
    for name in ("monday/deep/c.zip", "mondays/d.zip"):
        (folder / name).write_bytes(b"x")
    (folder / "monday" / "erased-0123.json").write_text("{}", encoding="ascii")
    (folder / "erased-4567.json").write_text("{}", encoding="ascii")
    found = found_in(folder, folder / "none")
    assert [file.name for file in found.files if found.is_marked("erased-0123.json", file.name)] == [
        "monday/A.ZIP",
        "monday/deep/c.zip",
    ]
    assert all(found.is_marked("erased-4567.json", file.name) for file in found.files)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root gives a file to somebody else")
def test_a_mark_of_somebody_who_may_merely_write_into_a_folder_does_not_count(folder):
    mark = folder / "erased-0123.json"
    mark.write_text("{}", encoding="ascii")
    os.chown(mark, 12345, -1)
    found = found_in(folder, folder / "none")
    assert (found.marks, found.not_ours) == ({}, {mark.name: {""}})
    os.chown(folder, 12345, -1)
    assert found_in(folder, folder / "none").marks == {mark.name: {""}}


def test_folders_that_are_too_deep_and_links_to_nowhere_do_no_harm(folder):
    deep = folder.joinpath(*["d"] * (DEEPEST + 1))
    deep.mkdir(parents=True)
    (deep / "z.zip").write_bytes(b"x")
    (folder / "gone.zip").symlink_to(folder / "nowhere.zip")
    assert _names(folder) == ["b.zip", "gone.zip", "log.sqlite", "monday/A.ZIP"]


def test_a_name_that_is_no_utf8_has_one_all_the_same(folder):
    (folder / "b.zip").rename(folder / os.fsdecode(b"b\xff.zip"))
    assert "b\\xff.zip" in _names(folder)


def test_no_folder_and_one_without_end_are_told(folder, monkeypatch):
    with refusal(LogError, "no folder"):
        found_in(folder / "b.zip", folder)
    monkeypatch.setattr(class_folder, "MOST_FILES", 2)
    with refusal(LogError, "2"):
        found_in(folder, folder / "none")
