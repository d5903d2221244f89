"""What is no plain file has a word, and a plain one none."""

import os
import socket
import stat

from game.text.catalogue import say
from game.text.no_file_words import kind_of_no_file


def told(path):
    key = kind_of_no_file(path.stat().st_mode)
    return say(key) if key else None


def test_each_kind_has_its_word_and_a_plain_file_none(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    os.mkfifo(tmp_path / "pipe")
    with socket.socket(socket.AF_UNIX) as here:
        here.bind(str(tmp_path / "socket"))
    assert told(tmp_path / "file") is None
    assert [told(tmp_path / name) for name in (".", "pipe", "socket")] == ["a folder", "a pipe", "a socket"]
    assert say(kind_of_no_file(stat.S_IFCHR)) == say(kind_of_no_file(stat.S_IFBLK)) == "a device"
