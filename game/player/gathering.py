"""The process that brings a player's log together with the folder that their computers share, so that no frame waits
for it: `python -m game.practice_log.transfer.exchange LOG`.
"""

from pathlib import Path

from game.errors import LogError
from game.player.background_process import BackgroundProcess
from game.player.player_log import PlayerLog
from game.practice_log.documents.take_in import gatherings
from game.practice_log.rows.one_player import ids_in_log
from game.practice_log.transfer.shared_folder import players_there, shared_folder


class GatheringProcess(BackgroundProcess):
    """Gathers into a log, and writes what is new there into the shared folder. Ended anywhere, it leaves both whole."""

    def __init__(self, log: PlayerLog) -> None:
        self._log, self._before = log, _gatherings(log)
        super().__init__("game.practice_log.transfer.exchange", str(log.path))

    @property
    def came_in(self) -> bool:
        """Whether anything new came into the log since it began. Never to be asked during a take."""
        return _gatherings(self._log) != self._before


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
