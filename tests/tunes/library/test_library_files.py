"""The files of the library: each whole or not at all."""

from pathlib import Path

import pytest

from game.errors import TuneError
from game.tunes.library.library_files import keep_original, write_once, write_whole
from tests.refusing import refusal


def test_a_file_is_written_whole_in_place_of_the_one_before_and_makes_its_folder(tmp_path: Path):
    path = tmp_path / "library" / "a.tune.json"
    write_whole(path, b"one")
    write_whole(path, b"another")
    assert [file.read_bytes() for file in path.parent.iterdir()] == [b"another"]


def test_a_file_that_is_there_is_written_once(tmp_path: Path):
    write_once(tmp_path / "a", b"one")
    write_once(tmp_path / "a", b"another")
    assert (tmp_path / "a").read_bytes() == b"one"


def test_a_disk_that_fails_in_the_middle_leaves_what_was_there_and_nothing_half(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    write_whole(tmp_path / "a", b"one")
    monkeypatch.setattr("os.fsync", full)
    with refusal(TuneError, "No space left on device"):
        write_whole(tmp_path / "a", b"another")
    assert [file.read_bytes() for file in tmp_path.iterdir()] == [b"one"]


def test_the_original_of_a_book_lies_on_the_disk_once_for_all_its_tunes(tmp_path: Path):
    """Where the system knows hard links."""
    first, second = tmp_path / "1.original", tmp_path / "2.original"
    keep_original(first, b"book", first)
    keep_original(second, b"book", first)
    assert first.read_bytes() == second.read_bytes() == b"book"
    assert first.stat().st_ino == second.stat().st_ino


def test_where_no_link_can_be_made_the_original_is_copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def refused(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    first, second = tmp_path / "1.original", tmp_path / "2.original"
    keep_original(first, b"book", first)
    monkeypatch.setattr("os.link", refused)
    keep_original(second, b"book", first)
    assert second.read_bytes() == b"book"
