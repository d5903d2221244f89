"""What Ctrl-C does: it ends the program without a word, whatever is under way."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from game.commands import interruption
from tests.commands.running import ROOT
from tests.sampling import runs_all

TUNE = "content/tunes/03-ode-to-joy.musicxml"
# When it comes: once a module is loaded, by some words.
LOADED = [
    ("game.message", "log"),
    ("game.text.catalogue", "players"),
    ("game.errors", "report"),
    ("pygame.base", ""),
    ("game.screens.window_size", ""),
    ("game.screens.startup", ""),
    ("matplotlib.figure", "map --out {}/map.png"),
    ("game.report.printed_pages", f"print {TUNE} --out {{}}/page.pdf"),
]
_ENDS_WITHIN_S = 300

# The game as it is started. pygame passes over what fails while it looks for the picture of the window; a module that
# it could not load is missed later, in words of its own.
INTERRUPTED_IN_PYGAME = """
import signal
import pygame, pygame.pkgdata

def interrupted(*_):
    signal.raise_signal(signal.SIGINT)

def failed(*_):
    try:
        interrupted()
    except KeyboardInterrupt:
        raise pygame.error("it is not there") from None

{}
from game.__main__ import main
raise SystemExit(main([]))
"""
IN_PYGAME = ["pygame.pkgdata.getResource = interrupted", "pygame.image.load = failed"]


class Started:
    """The program as a process of its own. Told to, it tells what it loads (`-X importtime`) by a pipe so small that it
    soon waits for whoever reads: it cannot be done before it is interrupted.
    """

    def __init__(self, words, folder, before=(), *, tells=True):
        told = ("-X", "importtime") if tells else ()
        self._process = subprocess.Popen(
            [*before, sys.executable, *told, "-m", "game", *words.format(folder).split()],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            bufsize=0,
            pipesize=4096,
            start_new_session=True,
        )

    def loads(self, module):
        """Wait until the program has loaded a module."""
        while line := self._process.stderr.readline():
            if line.decode().rpartition("|")[2].strip() == module:
                return
        pytest.fail(f"{module} was not loaded")

    def child(self):
        """Wait until the program has started another, and that is no copy of this one any more; its id."""
        children = Path(f"/proc/{self._process.pid}/task/{self._process.pid}/children")
        while True:
            for child in children.read_text().split():
                if _words_of(child) != _words_of(self._process.pid):
                    return int(child)
            self.goes_on()

    def goes_on(self):
        """Wait a little; an error where the program has ended."""
        assert self._process.poll() is None
        time.sleep(0.005)

    def interrupted(self):
        """What a terminal does at Ctrl-C, to the program and to all that it has started: how it ended, and what it had
        said.
        """
        os.killpg(self._process.pid, signal.SIGINT)
        out, complaints = self._process.communicate(timeout=_ENDS_WITHIN_S)
        said = [line for line in complaints.decode().splitlines() if "import time:" not in line]
        return self._process.returncode, out.decode(), said

    def end(self):
        """End it wherever it is."""
        self._process.kill()
        self._process.wait()
        self._process.stdout.close()
        self._process.stderr.close()


def _words_of(process):
    return Path(f"/proc/{process}/cmdline").read_bytes()


@pytest.fixture
def started(tmp_path, monkeypatch):
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    running = []

    def start(words, **how):
        running.append(Started(words, tmp_path, **how))
        return running[-1]

    yield start
    for process in running:
        process.end()


@pytest.mark.parametrize(("module", "words"), LOADED if runs_all() else LOADED[:3])
def test_it_ends_without_a_word_while_the_program_loads(module, words, started):
    process = started(words)
    process.loads(module)
    status, _, said = process.interrupted()
    assert status in (interruption.INTERRUPTED, -signal.SIGINT)
    assert said == []


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="asks Linux for the children of a process")
def test_it_ends_without_a_word_while_a_file_is_read(started):
    """The process that reads is held, so that it is at it however fast it is."""
    process = started(f"score {TUNE}", tells=False)
    os.kill(process.child(), signal.SIGSTOP)
    assert process.interrupted() == (interruption.INTERRUPTED, "", [])


@pytest.mark.skipif(shutil.which("sh") is None, reason="asks a shell")
def test_a_program_that_is_to_pass_it_over_does_so(started):
    """As what a shell runs in the background."""
    process = started("players", before=("sh", "-c", "trap '' INT; exec \"$@\"", "sh"))
    process.loads("game.message")
    status, out, said = process.interrupted()
    assert (status, said) == (0, [])
    assert out.startswith("name")


@pytest.fixture
def say_again(monkeypatch):
    """In place of how the tests themselves look for what cannot be raised."""
    monkeypatch.setattr(sys, "unraisablehook", interruption.say_again)


@pytest.mark.parametrize("there", IN_PYGAME)
def test_what_a_library_makes_nothing_or_a_fault_of_ends_the_game_all_the_same(there):
    environment = {**os.environ, "SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"}
    ended = subprocess.run(
        [sys.executable, "-c", INTERRUPTED_IN_PYGAME.format(there)],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=_ENDS_WITHIN_S,
    )
    assert (ended.returncode, ended.stdout, ended.stderr) == (interruption.INTERRUPTED, "", "")


class Failing:
    """Whose end fails."""

    def __init__(self, failure):
        self._failure = failure

    def __del__(self):
        self._failure()


@pytest.mark.usefixtures("say_again")
def test_where_nothing_can_be_raised_it_is_said_again(capsys):
    with pytest.raises(KeyboardInterrupt):
        throw_away(Failing(lambda: signal.raise_signal(signal.SIGINT)), then=signal.pause)
    assert capsys.readouterr() == ("", "")


@pytest.mark.usefixtures("say_again")
def test_whatever_else_cannot_be_raised_is_told_as_ever(capsys):
    throw_away(Failing(lambda: int("x")), then=lambda: None)
    assert "ValueError" in capsys.readouterr().err


def throw_away(thing, *, then):
    """Let go of a thing, and do something else."""
    del thing
    then()
