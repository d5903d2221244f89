"""The child that reads files from elsewhere, and how it answers."""

import io
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from game.errors import LogError
from game.practice_log.foreign import limited_child as module
from game.practice_log.foreign.limited_child import ANSWERS, main


@pytest.fixture
def answered(monkeypatch):
    """What it says when `lines` are those of the file, as frames of kind and content."""

    def asking(lines, most_bytes=1000):
        out = io.BytesIO()
        monkeypatch.setattr(module, "_limit", lambda *_: None)
        monkeypatch.setattr(module, "_answer", lambda *_: lines())
        with monkeypatch.context() as patched:
            patched.setattr(sys, "stdout", type("Out", (), {"buffer": out}))
            main("rows", "a.zip", 1, 1, most_bytes)
        return list(frames(out.getvalue()))

    return asking


def frames(said: bytes):
    while said:
        kind, length = said[:1], int.from_bytes(said[1:5], "big")
        yield kind, said[5 : 5 + length]
        said = said[5 + length :]


def test_lines_are_followed_by_the_word_that_this_was_all(answered):
    assert answered(lambda: iter([b"[1]\n", b"[2]\n"])) == [(b"L", b"[1]\n[2]\n"), (b"E", b"")]


def refused():
    yield b"[1]\n"
    raise LogError("backup.not_ours", file="a")


def faulty():
    raise KeyError("x")
    yield


def hungry():
    raise MemoryError
    yield


@pytest.mark.parametrize(
    ("lines", "kind", "words"), [(refused, b"R", b"backup.not_ours"), (faulty, b"F", b"KeyError"), (hungry, b"M", b"")]
)
def test_what_goes_wrong_is_said_in_the_place_of_that_word(answered, lines, kind: bytes, words: bytes):
    last = answered(lines)[-1]
    assert last[0] == kind
    assert words in last[1]


def test_more_bytes_than_allowed_are_not_sent(answered):
    ((kind, words),) = answered(lambda: iter([b"[1]\n"] * 300))
    assert (kind, b"transfer.too_large" in words) == (b"R", True)


def test_a_line_that_is_far_too_long_is_not_sent(answered, monkeypatch):
    monkeypatch.setattr(module, "MOST_OF_A_FRAME", 100)
    assert answered(lambda: iter([b"x" * 101 + b"\n"]))[-1][0] == b"R"


def test_whatever_can_be_asked_is_there():
    for place in ANSWERS.values():
        name, _, function = place.partition(":")
        assert callable(getattr(import_module(name), function))


def test_the_module_brings_no_database_before_the_limits():
    source = Path(module.__file__).read_text(encoding="utf-8")
    assert "sqlite3" not in source


@pytest.mark.skipif(not hasattr(os, "nice"), reason="this system lowers no process")
def test_the_child_steps_back_behind_the_game():
    standing = (
        "import os\nfrom game.practice_log.foreign.limited_child import ANSWERS, main\n"
        "def standing(path): yield b'%d' % os.getpriority(os.PRIO_PROCESS, 0)\n"
        "ANSWERS['standing'] = '__main__:standing'\nmain('standing', 'a.zip', 60, 10**9, 1000)\n"
    )
    root = Path(__file__).parents[3]
    said = subprocess.run([sys.executable, "-c", standing], cwd=root, check=True, capture_output=True).stdout
    assert next(frames(said)) == (b"L", b"%d" % min(19, os.getpriority(os.PRIO_PROCESS, 0) + 5))
