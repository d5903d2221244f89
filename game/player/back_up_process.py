"""The process that makes an automatic back-up, so that no frame waits for it."""

import os
import subprocess
import sys
from contextlib import suppress
from datetime import date
from pathlib import Path

from game.practice_log.back_ups.automatic import back_up_due

_RUNNING: list["subprocess.Popen[bytes]"] = []
"""Until they have ended; one that is begun when the game is left goes on after it."""


def begin_back_up(log: Path, today: date) -> bool:
    """Let the back-up of today be made, where one is due and none is being made. Whether it was begun."""
    _RUNNING[:] = [process for process in _RUNNING if process.poll() is None]
    if _RUNNING or not back_up_due(log, today):
        return False
    with_us = os.pathsep.join([str(Path(__file__).parents[2]), *filter(None, [os.environ.get("PYTHONPATH")])])
    with suppress(OSError):
        process = subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
            [sys.executable, "-P", "-m", "game.practice_log.back_ups.automatic", str(log), today.isoformat()],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": with_us},
            start_new_session=True,
        )
        _RUNNING.append(process)
        return True
    return False


def wait_for_back_up(timeout_s: float) -> None:
    """Wait until the one that was begun has ended."""
    for process in _RUNNING:
        process.wait(timeout_s)
