"""The game in its window."""

import os
import subprocess
import sys

import pytest

from game.commands.game_window import _load_the_rest
from game.player.profiles import LOG_FILE
from game.screens import startup
from tests.practice_log.transfer.damaged_files import first_page_of, flip
from tests.practice_log.transfer.hostile_files import log_of
from tests.screens.table import Table

FIRST_FRAME = """
import os, sys, types

def look(context):
    slow = ("babel", "verovio", "numpy", "mido", "rtmidi", "music21", "matplotlib", "jinja2", "fsrs", "sounddevice")
    slow += ("game.instrument.ports.microphone",)
    print([name for name in slow if name in sys.modules], flush=True)
    os._exit(0)

sys.modules["game.screens.startup"] = types.SimpleNamespace(finish_startup=look)
from game.commands import play_command
play_command.run()
"""


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_first_frame_waits_for_nothing_that_is_slow_to_load(language):
    environment = {**os.environ, "HOMEFRET_LANGUAGE": language}
    done = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME], env=environment, capture_output=True, text=True, check=False, timeout=120
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "[]\n", "")


def test_what_is_wrong_with_the_log_is_said_before_anything_else(tmp_path, monkeypatch):
    path = log_of(tmp_path / LOG_FILE, 2)
    flip(path, first_page_of(path, "take_by_day"))
    table = Table(tmp_path)
    monkeypatch.setattr(startup, "finish_startup", lambda context: context.session.begin_practice() and None)
    _load_the_rest(table.app)
    assert table.screen_name == "DamageScreen"


def test_where_nothing_is_wrong_with_it_today_is_there(tmp_path, monkeypatch):
    log_of(tmp_path / LOG_FILE, 2)
    table = Table(tmp_path)
    monkeypatch.setattr(startup, "finish_startup", lambda context: context.session.begin_practice() and None)
    _load_the_rest(table.app)
    assert table.screen_name == "TodayScreen"
