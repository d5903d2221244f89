"""Which files there are to gather from, and by what each is known again."""

import hashlib

import pytest

from game.errors import LogError
from game.practice_log.transfer import files_to_gather
from game.practice_log.transfer.files_to_gather import files_in, hash_in_name, hash_of
from tests.refusing import refusal


def test_logs_and_exports_in_folders_are_found_and_whatever_is_named(tmp_path):
    for name in ("b.zip", "a.sqlite", "a.sqlite-wal", "letter.txt", ".hidden.zip", "practice.sqlite.sums", "C.ZIP"):
        (tmp_path / name).touch()
    named = tmp_path / "letter.txt"
    found = list(files_in([tmp_path, named]))
    assert [(file.path.name, file.named) for file in found] == [
        ("C.ZIP", False), ("a.sqlite", False), ("b.zip", False), ("letter.txt", True),
    ]  # fmt: skip


def test_a_folder_without_end_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(files_to_gather, "_MOST_FILES", 2)
    for name in ("a.zip", "b.zip", "c.zip"):
        (tmp_path / name).touch()
    with refusal(LogError, "more than 2 files"):
        list(files_in([tmp_path]))


def test_the_hash_is_that_of_the_file_and_its_journal(tmp_path):
    path = tmp_path / "a.sqlite"
    path.write_bytes(b"one")
    alone = hash_of(path)
    assert alone == hashlib.sha256(b"one").hexdigest()[:16]
    (tmp_path / "a.sqlite-wal").write_bytes(b"two")
    assert hash_of(path) == hashlib.sha256(b"onetwo").hexdigest()[:16] != alone


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("2026-03-0123456789abcdef.zip", "0123456789abcdef"),
        ("of-00000000-0000-0000-0000-000000000001-0123456789abcdef.zip", "0123456789abcdef"),
        ("2026-03-0123456789abcdef (conflicted copy).zip", None),
        ("open.zip", None),
        ("me.zip", None),
    ],
)
def test_files_of_a_shared_folder_tell_their_hash_in_their_name(tmp_path, name, told):
    assert hash_in_name(tmp_path / name) == told
