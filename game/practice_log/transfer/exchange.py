"""A player's log and the folder that their computers share, brought together: what the others brought comes into the
log, and what was recorded here goes into the folder. As a process of its own: `python -m
game.practice_log.transfer.exchange LOG`. Killed in the middle of it, it leaves both whole.
"""

import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from uuid import UUID

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.own_device import own_device
from game.practice_log.database.own_player import own_player, player_of_log
from game.practice_log.rows.one_player import ids_in_log
from game.practice_log.transfer.files_to_gather import FileToGather
from game.practice_log.transfer.gather import Gathered, gathering
from game.practice_log.transfer.share import Sharing, write_share
from game.practice_log.transfer.shared_folder import players_there, shared_files, shared_folder, slot_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchanged:
    """What came out of a shared folder, and how many files went into it."""

    folder: Path
    gathered: Gathered
    written: int


def exchange(log: Path, *, now: datetime, as_one: bool = False) -> Exchanged | None:
    """Gather from the shared folder and write into it; None where the log is not shared. `as_one` says that everybody
    who shares through the folder is this player. `now` knows the player's zone.

    Raises `LogError` for a folder that cannot be reached or written, or in which others share and it is not known who
    this player is.
    """
    folder = shared_folder(log.parent)
    if folder is None:
        return None
    if not folder.is_dir():
        raise LogError("share.no_folder", folder=folder)
    gathered = _gathered(log, folder, now, as_one=as_one)
    return Exchanged(folder=folder, gathered=gathered, written=_written(log, folder, now))


def _written(log: Path, folder: Path, now: datetime) -> int:
    """Who is known there by several ids has files under each: the computers that know but one of them find them."""
    player = player_of_log(log)
    if player is None:
        return 0
    own, device = own_player(log), own_device(log.parent).uuid
    ids = {own.uuid} | (ids_in_log(log) & set(players_there(folder)))
    sharings = (
        Sharing(log=log, folder=folder, player=Identity(uuid=uuid, name=own.name), device=device)
        for uuid in sorted(ids)
    )
    return sum(write_share(sharing, now=now) for sharing in sharings)


def _gathered(log: Path, folder: Path, now: datetime, *, as_one: bool) -> Gathered:
    try:
        files = shared_files(folder, _players(log, folder, as_one=as_one))
    except OSError as error:
        raise LogError("share.no_folder", folder=folder) from error
    with gathering(log, now, as_one=as_one) as under_way:
        for file in files:
            under_way.take_in_file(FileToGather(file, named=False), slot=slot_of(folder, file))
        under_way.finish()
        return under_way.gathered


def _players(log: Path, folder: Path, *, as_one: bool) -> frozenset[UUID]:
    """By which ids the player is known there: as in the log; a log in which nothing is yet becomes that of whoever
    shares through the folder alone.
    """
    there = frozenset(players_there(folder))
    known = ids_in_log(log)
    if as_one:
        return there
    if not known and len(there) > 1:
        raise LogError("share.several_players", folder=folder, count=len(there))
    return known or there


def main(log: Path) -> int:
    """Bring both together. What stands in the way is told where somebody asks for it by command."""
    try:
        exchange(log, now=datetime.now().astimezone())
    except LogError:
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
