"""The process that brings a player's log together with the folder that their computers share, so that no frame waits
for it: `python -m game.practice_log.transfer.exchange LOG`.
"""

import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

from game.errors import LogError
from game.player.player_log import PlayerLog
from game.practice_log.documents.take_in import gatherings
from game.practice_log.rows.one_player import ids_in_log
from game.practice_log.transfer.shared_folder import players_there, shared_folder

_MODULE = "game.practice_log.transfer.exchange"
_RUNNING: list["subprocess.Popen[bytes]"] = []
"""Until they have ended: one that began when its player left the seat goes on by itself."""


class GatheringProcess:
    """Gathers into a log, and writes what is new there into the shared folder. It steps back behind the game."""

    def __init__(self, log: PlayerLog) -> None:
        self._log, self._before = log, _gatherings(log)
        with_us = os.pathsep.join([str(Path(__file__).parents[2]), *filter(None, [os.environ.get("PYTHONPATH")])])
        self._process: subprocess.Popen[bytes] | None = None
        with suppress(OSError):
            self._process = subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
                [sys.executable, "-P", "-m", _MODULE, str(log.path)],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                env={**os.environ, "PYTHONPATH": with_us},
            )
            _RUNNING[:] = [self._process, *(process for process in _RUNNING if process.poll() is None)]

    @property
    def over(self) -> bool:
        """Whether it has ended, well or not."""
        return self._process is None or self._process.poll() is not None

    @property
    def came_in(self) -> bool:
        """Whether anything new came into the log since it began."""
        return _gatherings(self._log) != self._before

    def wait(self, timeout_s: float) -> None:
        """Wait until it is over, and not longer than that."""
        if self._process is not None:
            with suppress(subprocess.TimeoutExpired):
                self._process.wait(timeout_s)

    def stop(self) -> None:
        """End it wherever it is: what is not in the log yet comes next time."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()


def strangers_in(folder: Path, log: PlayerLog) -> bool:
    """Whether somebody shares through a folder who is not known as the player of the log, in which something is. Into
    a log that is empty whoever shares alone comes by themselves.
    """
    try:
        there = set(players_there(folder))
    except OSError:
        return False
    known = ids_in_log(log.path)
    return bool(there - known) if known else len(there) > 1


def _gatherings(log: PlayerLog) -> int:
    try:
        with log.reading() as connection:
            return gatherings(connection)
    except LogError:
        return 0


def start_gathering(log: PlayerLog) -> GatheringProcess | None:
    """Gather with the shared folder; None where the player shares with no other computer."""
    return None if shared_folder(log.path.parent) is None else GatheringProcess(log)
