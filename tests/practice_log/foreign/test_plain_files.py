"""What is no plain file is refused before it is opened."""

import os

import pytest

from game.errors import LogError
from game.practice_log.foreign.plain_files import is_packed, refuse_no_plain_file
from tests.refusing import refusal


def test_a_plain_file_tells_its_size_and_whether_it_is_packed(tmp_path):
    (tmp_path / "a").write_bytes(b"PK\x03\x04")
    (tmp_path / "b").write_bytes(b"P")
    assert [refuse_no_plain_file(tmp_path / name) for name in "ab"] == [4, 1]
    assert [is_packed(tmp_path / name) for name in "ab"] == [True, False]


@pytest.mark.parametrize("what", [refuse_no_plain_file, is_packed])
def test_pipes_folders_and_what_is_not_there_are_never_opened(tmp_path, what):
    os.mkfifo(tmp_path / "pipe")
    for name, words in (("pipe", "pipe"), (".", "folder"), ("away", "away")):
        with refusal(LogError, words):
            what(tmp_path / name)


def test_a_link_to_what_is_gone_is_told_as_that(tmp_path):
    (tmp_path / "first.zip").symlink_to(tmp_path / "gone.zip")
    with refusal(LogError, "first.zip is a link, and what it leads to is gone: name the file itself"):
        refuse_no_plain_file(tmp_path / "first.zip")
