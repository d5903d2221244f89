"""Files are chosen in a window of the system, in a process of its own."""

import sys
import time
from pathlib import Path

import pytest

from game.errors import HomefretError
from game.screens.choosing.file_chooser import FOLDER_COMMAND, WITHOUT_TK, FileChooser
from tests.refusing import refusal


def chosen(program):
    """What a chooser whose window is this program comes to."""
    return chosen_by(FileChooser((sys.executable, "-c", program)))


def chosen_by(chooser):
    assert chooser.poll() is None
    chooser.open()
    deadline = time.monotonic() + 120
    while time.monotonic() < deadline:
        paths = chooser.poll()
        if paths is not None:
            assert chooser.poll() is None
            return paths
        time.sleep(0.02)
    raise AssertionError("the window never closed")


def test_what_was_chosen_comes_as_paths():
    assert chosen('print(\'["/a/one.abc", "/a/two.mid"]\')') == (Path("/a/one.abc"), Path("/a/two.mid"))


@pytest.mark.parametrize("program", ["print('[]')", "pass", "print('no list')", "print('7')"])
def test_a_changed_mind_or_a_broken_window_chooses_nothing(program):
    assert chosen(program) == ()


def test_without_tk_it_says_so():
    with refusal(HomefretError, "without the windows"):
        chosen(f"raise SystemExit({WITHOUT_TK})")


def test_a_window_that_was_never_opened_chooses_nothing():
    assert FileChooser().poll() is None


def test_without_a_screen_the_real_one_ends_with_its_own_status(monkeypatch):
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    with refusal(HomefretError, "without the windows"):
        chosen_by(FileChooser())


def test_a_folder_is_chosen_by_a_word_behind_it(monkeypatch):
    """It too says so where there is no screen."""
    assert FOLDER_COMMAND[-1] == "folder"
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    with refusal(HomefretError, "without the windows"):
        chosen_by(FileChooser(FOLDER_COMMAND))
