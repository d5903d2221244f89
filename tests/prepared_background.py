"""Processes behind the game, as copies of one that has loaded what they need: to load it takes half a second each time.

Each is a process of its own, lowered, that can be waited for and ended, as in the game. Where everything is asked for
each is a new interpreter, and always where it is no module of the game that is run.
"""

import os
import select
import signal
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from game.player import background_process
from tests.copy_maker import CopyMaker, serve, surroundings

ROOT = Path(__file__).parents[1]
_popen = subprocess.Popen


class CopiedBackground:
    """A process as `BackgroundProcess` sees it."""

    def __init__(self, handle: int) -> None:
        self._handle, self.returncode = handle, None

    def poll(self) -> int | None:
        """None while it goes on."""
        with suppress(subprocess.TimeoutExpired):
            self.wait(0)
        return self.returncode

    def wait(self, timeout: float | None = None) -> int:
        """0 when it has ended, well or not. Raises `subprocess.TimeoutExpired` where it goes on."""
        if self.returncode is None:
            if not select.select([self._handle], [], [], timeout)[0]:
                raise subprocess.TimeoutExpired("a copy", timeout)
            os.close(self._handle)
            self.returncode = 0
        return self.returncode

    def kill(self) -> None:
        """End it, if it has not ended."""
        if self.returncode is None:
            with suppress(ProcessLookupError):
                signal.pidfd_send_signal(self._handle, signal.SIGKILL)


class PreparedBackground:
    """The process that makes copies of itself. While `on` is false each process is a new interpreter."""

    def __init__(self) -> None:
        self.on = True
        self._maker: CopyMaker | None = None

    def put_in(self, put: Callable[[Any, str, object], None] = setattr) -> None:
        """Have whatever begins a process behind the game in this process ask for a copy from now on."""
        if hasattr(os, "pidfd_open"):
            seen = SimpleNamespace(
                Popen=self._begun, DEVNULL=subprocess.DEVNULL, TimeoutExpired=subprocess.TimeoutExpired
            )
            put(background_process, "subprocess", seen)

    def end(self) -> None:
        """End the process that makes copies."""
        if self._maker is not None:
            self._maker.end()
            self._maker = None

    def _begun(self, command: list[str], *, env: dict[str, str], start_new_session: bool, **streams: int) -> Any:
        *_, name, module = command[: command.index(background_process.__name__) + 2]
        assert name == background_process.__name__
        if not self.on or not module.startswith("game.") or subprocess.Popen is not _popen:
            return subprocess.Popen(command, env=env, start_new_session=start_new_session, **streams)
        if self._maker is None:
            start = "import sys; from tests.prepared_background import main; main(int(sys.argv[-1]))"
            self._maker = CopyMaker([sys.executable, "-P", "-c", start], PYTHONPATH=str(ROOT))
        request = {"words": command[command.index(module) :], "session": start_new_session, **surroundings()}
        nothing = os.open(os.devnull, os.O_RDWR)
        try:
            return CopiedBackground(self._maker.copied(request, nothing))
        finally:
            os.close(nothing)


PREPARED_BACKGROUND = PreparedBackground()


def main(number: int) -> None:
    """Make a copy for each process until nobody asks any more."""
    serve(number, _load, _run)


def _load(request: dict[str, Any]) -> None:
    with suppress(ImportError):
        import_module(request["words"][0])


def _run(request: dict[str, Any], nothing: int) -> None:
    """As a new interpreter would, in the copy."""
    os.dup2(nothing, 1)
    if request["session"]:
        os.setsid()
    module = request["words"][0]
    sys.argv = [background_process.__file__, *request["words"]]
    # What was loaded to be at hand is no module that was run.
    sys.modules.pop(module, None)
    background_process.main(module)
