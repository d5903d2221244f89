"""A process of our own behind the game, which never waits for it: it goes through the log, gathers, or backs up.

It steps back behind the game, and behind whatever else the computer does.
"""

import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from runpy import run_module

_RUNNING: list["subprocess.Popen[bytes]"] = []
"""Until they have ended: one that nobody asks for any more goes on by itself, and is cleared away here."""


class BackgroundProcess:
    """Runs a module of ours with some words, as `python -m` does. Where the system starts none it is over at once.

    `outlives` where it is to go on when the game is ended by its terminal.
    """

    def __init__(self, module: str, *words: str, outlives: bool = False) -> None:
        with_us = os.pathsep.join([str(Path(__file__).parents[2]), *filter(None, [os.environ.get("PYTHONPATH")])])
        _RUNNING[:] = [process for process in _RUNNING if process.poll() is None]
        self._process: subprocess.Popen[bytes] | None = None
        with suppress(OSError):
            self._process = subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
                [sys.executable, "-P", "-m", __name__, module, *words],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                env={**os.environ, "PYTHONPATH": with_us},
                start_new_session=outlives,
            )
            _RUNNING.append(self._process)

    @property
    def over(self) -> bool:
        """Whether it has ended, well or not."""
        return self._process is None or self._process.poll() is not None

    def wait(self, timeout_s: float) -> None:
        """Wait until it is over, and not longer than that."""
        if self._process is not None:
            with suppress(subprocess.TimeoutExpired):
                self._process.wait(timeout_s)

    def stop(self) -> None:
        """End it wherever it is."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()


def main(module: str) -> None:
    """Run a module with the words that follow its name, as `python -m` does, behind whatever else goes on."""
    if hasattr(os, "nice"):
        os.nice(10)
    del sys.argv[1]
    run_module(module, run_name="__main__", alter_sys=True)


if __name__ == "__main__":
    main(sys.argv[1])
