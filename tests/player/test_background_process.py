"""A process of our own behind the game."""

import os
import subprocess

import pytest

from game.player.background_process import BackgroundProcess
from tests.prepared_background import PREPARED_BACKGROUND


@pytest.fixture(autouse=True)
def interpreters_of_their_own(monkeypatch):
    """As in the game."""
    monkeypatch.setattr(PREPARED_BACKGROUND, "on", False)


def test_it_runs_a_module_of_ours_and_is_over_when_that_has_ended():
    process = BackgroundProcess("game.no_such_module")
    process.wait(60)
    assert process.over


def test_it_is_ended_wherever_it_is(monkeypatch, tmp_path):
    (tmp_path / "waits_for_ever.py").write_text("import threading; threading.Event().wait()")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    process = BackgroundProcess("waits_for_ever")
    process.wait(0.05)
    assert not process.over
    process.stop()
    assert process.over


def test_where_the_system_starts_none_it_is_over_at_once(monkeypatch):
    def refused(*_, **__):
        raise OSError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(subprocess, "Popen", refused)
    process = BackgroundProcess("game.text.compile")
    assert process.over
    process.wait(1)
    process.stop()


@pytest.mark.skipif(not hasattr(os, "nice"), reason="this system lowers no process")
def test_it_steps_back_behind_the_game_and_gets_the_words_after_its_name(monkeypatch, tmp_path):
    """The game itself is not lowered by it."""
    (tmp_path / "tells_how_it_runs.py").write_text(
        "import os, sys\nif __name__ == '__main__':\n"
        "    open(sys.argv[1], 'w').write(f'{os.getpriority(os.PRIO_PROCESS, 0)} {sys.argv[2:]}')\n"
    )
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    before = os.getpriority(os.PRIO_PROCESS, 0)
    process = BackgroundProcess("tells_how_it_runs", str(tmp_path / "told"), "of", "these")
    process.wait(60)
    assert (tmp_path / "told").read_text() == f"{min(19, before + 10)} ['of', 'these']"
    assert os.getpriority(os.PRIO_PROCESS, 0) == before
