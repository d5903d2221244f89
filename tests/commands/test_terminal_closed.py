"""A terminal that is closed ends the game as the close button does, and so does a system that shuts down."""

import json
import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest

from game.commands.terminal_closed import ended_by_hang_up
from tests.commands.running import ROOT
from tests.sampling import sample

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="these signals are those of POSIX")

GAME = """
import sys
from game import app
from game.commands import play_command

def in_a_step(app, before_each_turn, run=app.run):
    app.context.session.plan.begin_step()
    print("ready", flush=True)
    run(app, before_each_turn)

app.run = in_a_step
sys.exit(play_command.run())
"""


@pytest.mark.parametrize("name", sample(["SIGHUP", "SIGTERM"], by_default=1))
def test_the_game_ends_in_order_and_tells_of_the_step_under_way(tmp_path, name):
    environment = {**os.environ, "HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path), "HOMEFRET_MIDI_API": "alsa"}
    words = [sys.executable, "-c", GAME]
    with subprocess.Popen(words, env=environment, cwd=ROOT, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout.readline() == "ready\n"
        process.send_signal(getattr(signal, name))
        said, _ = process.communicate(timeout=120)
    assert (process.returncode, said) == (0, "")
    (log,) = tmp_path.rglob("practice.sqlite")
    with closing(sqlite3.connect(log)) as connection:
        told = [json.loads(content) for (content,) in connection.execute("SELECT content FROM fact")]
    assert [one["kind"] for one in told if "minutes" in one] == ["five notes"]


def test_it_may_come_twice_and_afterwards_all_is_as_it_was():
    """As from a shell that is told of it, too."""
    before, ended = signal.signal(signal.SIGHUP, signal.SIG_DFL), []
    try:
        with ended_by_hang_up(lambda: ended.append(1)):
            signal.raise_signal(signal.SIGHUP)
            signal.raise_signal(signal.SIGHUP)
        assert signal.getsignal(signal.SIGHUP) is signal.SIG_DFL
    finally:
        signal.signal(signal.SIGHUP, before)
    assert ended == [1, 1]


def test_what_it_was_begun_to_pass_over_is_passed_over():
    """As `nohup` does (POSIX)."""
    before, ended = signal.signal(signal.SIGHUP, signal.SIG_IGN), []
    try:
        with ended_by_hang_up(lambda: ended.append(1)):
            signal.raise_signal(signal.SIGHUP)
        assert signal.getsignal(signal.SIGHUP) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGHUP, before)
    assert ended == []
