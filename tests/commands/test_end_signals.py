"""What ends the game from outside does what the close button does."""

import json
import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest

from game.commands.end_signals import closed_by_signals
from tests.commands.running import ROOT
from tests.sampling import sample

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="these signals are those of POSIX")

GAME = """
import sys
from game import app
from game.commands import play_command

def in_a_step(game, run=app.run):
    game.context.session.plan.begin_step()
    print("ready", flush=True)
    run(game)

app.run = in_a_step
sys.exit(play_command.run())
"""


@pytest.mark.parametrize("name", sample(["SIGTERM", "SIGHUP"], by_default=1))
def test_the_game_ends_in_order_and_without_a_word_and_tells_of_the_step_under_way(tmp_path, name):
    environment = {**os.environ, "HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path), "HOMEFRET_MIDI_API": "alsa"}
    words = [sys.executable, "-c", GAME]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
    with subprocess.Popen(words, env=environment, cwd=ROOT, **pipes) as process:
        assert process.stdout.readline() == "ready\n"
        process.send_signal(getattr(signal, name))
        said, wrong = process.communicate(timeout=120)
    assert (process.returncode, said, wrong) == (0, "", "")
    (log,) = tmp_path.rglob("practice.sqlite")
    with closing(sqlite3.connect(log)) as connection:
        told = [json.loads(content) for (content,) in connection.execute("SELECT content FROM fact")]
    assert [one["kind"] for one in told if "minutes" in one] == ["five notes"]


def test_the_second_time_it_ends_at_once_and_afterwards_all_is_as_it_was():
    closed = []
    with closed_by_signals(lambda: closed.append(1)):
        signal.raise_signal(signal.SIGTERM)
        assert signal.getsignal(signal.SIGTERM) is signal.SIG_DFL
    assert closed == [1]
    assert signal.getsignal(signal.SIGHUP) is signal.SIG_DFL


def test_what_it_was_begun_to_pass_over_is_passed_over():
    """As `nohup` does (POSIX)."""
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    closed = []
    try:
        with closed_by_signals(lambda: closed.append(1)):
            signal.raise_signal(signal.SIGHUP)
        assert signal.getsignal(signal.SIGHUP) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGHUP, before)
    assert closed == []
