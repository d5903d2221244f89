"""A note of what went wrong lies beside the log."""

import os
from fractions import Fraction

import pytest

from game import __version__
from game.player import crash_note
from game.player.crash_note import MOST_KEPT, write_crash_note


def fault():
    """A real one, with its trace."""
    with pytest.raises(ZeroDivisionError) as caught:
        Fraction(1, 0)
    return caught.value


def test_a_note_tells_version_screen_and_trace(tmp_path):
    note = write_crash_note(tmp_path / "player", fault(), screen="MapScreen")
    told = note.read_text(encoding="utf-8")
    assert note.parent == tmp_path / "player"
    assert told.startswith(f"Homefret {__version__}, ")
    assert "MapScreen" in told.splitlines()[0]
    assert told.rstrip().endswith("ZeroDivisionError: Fraction(1, 0)")
    assert "in fault" in told


def test_only_the_newest_ten_are_kept_and_nothing_else_is_touched(tmp_path):
    (tmp_path / "practice.sqlite").write_text("the log")
    notes = [write_crash_note(tmp_path, fault(), screen="MapScreen") for _ in range(MOST_KEPT + 3)]
    assert sorted(tmp_path.glob("crash-*.txt")) == notes[3:]
    assert (tmp_path / "practice.sqlite").read_text() == "the log"


def test_a_disk_that_refuses_gives_no_note_and_no_second_fault(tmp_path):
    (tmp_path / "player").write_text("a file is in the way")
    assert write_crash_note(tmp_path / "player", fault(), screen="MapScreen") is None


def test_a_note_names_nothing_of_the_computer_but_its_system(tmp_path, monkeypatch):
    monkeypatch.setattr(crash_note.platform, "system", lambda: "Plan 9")
    head = write_crash_note(tmp_path, fault(), screen="MapScreen").read_text(encoding="utf-8").splitlines()[0]
    assert "Plan 9" in head
    assert os.uname().nodename not in head
