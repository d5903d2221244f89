"""The folder through which a player's computers share what is played, and what others put there for them."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from game.practice_log.transfer.shared_folder import assignment_files, remember_shared, shared_folder

if TYPE_CHECKING:
    from game.player.player_log import PlayerLog


# ruff: noqa: PLC0415 - Today asks for the folder alone, in the first frame, which does without the database


class PlayerSharing:
    """What one player shares, who keeps `player_folder`. `log` opens the log when it is asked for, and `gather` begins
    to bring the computers together.
    """

    def __init__(self, player_folder: Path, log: "Callable[[], PlayerLog]", gather: Callable[[], None]) -> None:
        self._player_folder, self._log, self._gather = player_folder, log, gather

    @property
    def folder(self) -> Path | None:
        """The folder that is shared; None for none."""
        return shared_folder(self._player_folder)

    def share_through(self, folder: Path | None) -> None:
        """Share what is played through a folder from now on, or no longer. Raises `LogError` for one that cannot be."""
        remember_shared(self._player_folder, folder)
        self._gather()

    @property
    def assignments(self) -> tuple[Path, ...]:
        """The files of assignments that a teacher put into the folder for this player."""
        from game.practice_log.rows.one_player import ids_in_log

        folder = self.folder
        if folder is None:
            return ()
        log = self._log()
        return assignment_files(folder, ids_in_log(log.path) | {log.player.uuid})

    @property
    def has_strangers(self) -> bool:
        """Whether somebody shares through the same folder who goes by another id than this player: this player, it may
        be, who practised on two computers before they were brought together.
        """
        from game.player.gathering import strangers_in

        folder = self.folder
        return folder is not None and strangers_in(folder, self._log())
