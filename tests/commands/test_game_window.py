"""The game in its window."""

import os
import subprocess
import sys

import pytest

FIRST_FRAME = """
import os, sys, types

def look(context):
    slow = ("babel", "verovio", "numpy", "mido", "rtmidi", "music21", "matplotlib", "jinja2", "fsrs")
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
