"""A JACK server of the test's own, with the dummy driver: MIDI goes through it as through a real system."""

import os
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from game.instrument.ports.rtmidi_driver import RtMidiDriver
from tests.system.needs import require, require_module

# Synchronous (-S), for without it messages are lost. The second line serves where real-time scheduling is
# refused.
_WAYS = (
    ("-R", "-S", "--no-mlock", "-n", "{name}", "-d", "dummy", "-r", "48000", "-p", "128"),
    ("-r", "-S", "--no-mlock", "-n", "{name}", "-d", "dummy", "-r", "48000", "-p", "256"),
)
# Programs in Python that play and hear sound have to answer in each period.
_WAYS_OF_SOUND = (
    ("-R", "-S", "--no-mlock", "-n", "{name}", "-d", "dummy", "-r", "48000", "-p", "1024"),
    ("-r", "-S", "--no-mlock", "-n", "{name}", "-d", "dummy", "-r", "48000", "-p", "1024"),
)
_UP_WITHIN_S = 60.0
_ENDS_WITHIN_S = 60.0


def jack_environment(name: str) -> dict[str, str]:
    """The environment for a program that is to speak MIDI through the server `name`."""
    return {
        **os.environ,
        "JACK_DEFAULT_SERVER": name,
        "JACK_NO_START_SERVER": "1",
        "HOMEFRET_MIDI_API": "jack",
    }


@contextmanager
def jack_server(folder: Path) -> Iterator[dict[str, str]]:
    """Run a server while the block runs; gives `jack_environment`. Its words go to jack.log in `folder`."""
    with jack_that_restarts(folder) as (environment, _):
        yield environment


@contextmanager
def jack_for_sound(folder: Path) -> Iterator[dict[str, str]]:
    """The same, for programs that play and hear sound: each period lasts 21 ms."""
    with jack_that_restarts(folder, _WAYS_OF_SOUND) as (environment, _):
        yield environment


@contextmanager
def jack_that_restarts(
    folder: Path, ways: tuple[tuple[str, ...], ...] = _WAYS
) -> Iterator[tuple[dict[str, str], Callable[[], None]]]:
    """The same, and what kills the server and starts it anew under its name."""
    require_module("rtmidi", package="python-rtmidi")
    jackd = require("jackd", package="jackd2")
    before = os.environ.get("JACK_DEFAULT_SERVER")
    for number, way in enumerate(ways):
        name = f"homefret-{os.getpid()}-{time.monotonic_ns()}-{number}"
        os.environ["JACK_DEFAULT_SERVER"] = name
        command = [jackd, *(word.format(name=name) for word in way)]
        servers = [_start(command, folder)]

        def restart(command: list[str] = command, servers: list[subprocess.Popen] = servers) -> None:
            servers[-1].kill()
            servers[-1].wait()
            servers.append(_start(command, folder))

        try:
            if _is_up(servers[-1]):
                yield jack_environment(name), restart
                return
        finally:
            end(servers[-1])
            _restore("JACK_DEFAULT_SERVER", before)
    said = (folder / "jack.log").read_text(errors="replace")
    pytest.fail(f"jackd does not start: {said[-500:]}")


def _start(command: list[str], folder: Path) -> subprocess.Popen:
    with (folder / "jack.log").open("ab") as log:
        return subprocess.Popen(command, stdout=log, stderr=log)


def _is_up(server: subprocess.Popen) -> bool:
    deadline = time.monotonic() + _UP_WITHIN_S
    while time.monotonic() < deadline and server.poll() is None:
        try:
            RtMidiDriver("jack").close()
        except OSError:
            time.sleep(0.05)
        else:
            return True
    return False


def end(process: subprocess.Popen) -> None:
    """SIGTERM, so that JACK clients leave their server in order; SIGKILL where that is not heard."""
    if process.poll() is None:
        process.send_signal(signal.SIGTERM)
    try:
        process.wait(_ENDS_WITHIN_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def _restore(variable: str, value: str | None) -> None:
    if value is None:
        os.environ.pop(variable, None)
    else:
        os.environ[variable] = value
