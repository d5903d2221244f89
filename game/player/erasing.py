"""A player and all they played, removed from this computer for good. What is everybody's stays: the library, and
whatever belongs to other players.
"""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from uuid import UUID

import msgspec

from game.message import message
from game.paths import user_data, user_settings
from game.player.class_place import CLASSES
from game.player.players_file import FIRST_ID, PlayerError, read_players, write_players
from game.player.profiles import Profile, first_player, players
from game.practice_log.database.identity import PLAYER_FILE, Identity, read_identity
from game.practice_log.database.in_use import not_in_use
from game.practice_log.rows.one_player import ids_in_log
from game.practice_log.transfer.erased import is_mark, mark_erased
from game.practice_log.transfer.packed_player import exports_of
from game.practice_log.transfer.shared_folder import player_folder
from game.practice_log.writing.rescue import rescue_files

_EVERYBODYS = ("library", "players", "players.json", CLASSES)
"""What lies in the first player's folders and is not theirs."""

_HELD = ".in-use"
"""The end of the name of the file that is held open while a player is erased."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerFiles:
    """What there is of a player: the ids by which they are known, their files and folders on this computer, and those
    in the folder `shared`, where that was asked for too. `player` is None for one who is only there.
    """

    player: Profile | None
    ids: frozenset[UUID]
    paths: tuple[Path, ...] = ()
    shared: Path | None = None
    in_shared: tuple[Path, ...] = ()

    @property
    def files(self) -> tuple[Path, ...]:
        """Each file, those in folders too."""
        inside = (file for path in (*self.paths, *self.in_shared) for file in (path, *sorted(path.rglob("*"))))
        return tuple(file for file in inside if file.is_symlink() or file.is_file())


def player_files(wanted: str, shared: Path | None = None) -> PlayerFiles:
    """What there is of the player of this name, or of this id; in a shared folder, too, where one is given. Raises
    `PlayerError` where nobody has it, or there is no such folder.
    """
    if shared is not None and not shared.is_dir():
        raise PlayerError("player.no_shared_folder", folder=shared)
    known = players()
    for player in known:
        ids = _ids(player)
        if wanted.strip().casefold() in {player.name.casefold(), *map(str, ids)} - {""}:
            there = _in_shared(shared, ids)
            return PlayerFiles(player=player, ids=ids, paths=tuple(_paths(player)), shared=shared, in_shared=there)
    with suppress(ValueError):
        ids = frozenset({UUID(wanted.strip())})
        if there := _in_shared(shared, ids):
            return PlayerFiles(player=None, ids=ids, shared=shared, in_shared=there)
    names = tuple(player.name for player in known if player.name) or (message("player.nobody_yet"),)
    raise PlayerError("player.nobody_to_erase", given=wanted, names=names)


def erase_player(found: PlayerFiles, day: date) -> None:
    """Remove a player, and leave a mark that they were erased, so that nothing of them is taken in again.

    Raises `LogError` while a game plays into their log, and `PlayerError` for a file that cannot be removed: then
    whoever erases them again goes on from there.
    """
    if found.player is None:
        _erase_shared(found, day)
        return
    with not_in_use(found.player.log_path):
        _erase_shared(found, day)
        for file in found.files:
            if not file.name.endswith(_HELD):
                _remove(file)
    for path in _paths(found.player):
        _remove(path)
    with _told(user_data()):
        _strike_out(found.player)


def _erase_shared(found: PlayerFiles, day: date) -> None:
    """The marks come first: whatever happens then, nothing comes back."""
    for folder in filter(None, (user_data(), found.shared)):
        with _told(folder):
            mark_erased(folder, found.ids, day)
    for file in found.in_shared:
        _remove(file)


def _in_shared(shared: Path | None, ids: frozenset[UUID]) -> tuple[Path, ...]:
    """The folders into which their computers write, and exports that somebody laid there."""
    if shared is None:
        return ()
    folders = [folder for folder in (player_folder(shared, uuid) for uuid in sorted(ids)) if folder.is_dir()]
    laid_there = (file for file in exports_of(shared, ids) if not any(_lies_in(file, folder) for folder in folders))
    return (*folders, *laid_there)


def _ids(player: Profile) -> frozenset[UUID]:
    kept = read_identity(player.folder / PLAYER_FILE, Identity)
    return ids_in_log(player.log_path) | ({kept.uuid} if kept else frozenset())


def _paths(player: Profile) -> Iterator[Path]:
    """The files and folders that belong to nobody else."""
    inside = tuple(_folders(player) if player.folder != first_player().folder else _of_the_first())
    yield from inside
    # What could not be written beside the log lies elsewhere.
    yield from (file for file in rescue_files(player.log_path) if not any(_lies_in(file, path) for path in inside))


def _folders(player: Profile) -> Iterator[Path]:
    both = dict.fromkeys((player.folder, player.settings_path.parent))
    yield from (folder for folder in both if folder.is_dir())


def _of_the_first() -> Iterator[Path]:
    for folder in dict.fromkeys((user_data(), user_settings().parent)):
        for path in sorted(folder.iterdir()) if folder.is_dir() else ():
            if path.name not in _EVERYBODYS and not is_mark(path):
                yield path


def _lies_in(file: Path, path: Path) -> bool:
    return path == file or path in file.parents


def _remove(path: Path) -> None:
    with _told(path):
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink(missing_ok=True)


def _strike_out(player: Profile) -> None:
    """Take a player off the table, the last of all: by their name they are found again until then."""
    table = read_players().without_faults()
    rows = tuple(row for row in table.players if row.folder != player.folder.name)
    if len(rows) < len(table.players):
        last = FIRST_ID if table.last == player.folder.name else table.last
        write_players(msgspec.structs.replace(table, players=rows, last=last))


@contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        reason = error.strerror or error
        raise PlayerError("player.cannot_be_erased", file=error.filename or path, reason=reason) from error
