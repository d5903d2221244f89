"""Who plays on this computer: each player has a folder with their log, and settings of their own; tunes are shared.

The first player lives where a single player always did, and has no name before one is given. The others stand in a
table, which also keeps who was chosen last on screen: see `game.player.players_file`.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID, uuid4

import msgspec

from game.errors import reason_of
from game.message import message
from game.paths import user_data, user_settings
from game.player.players_file import FIRST_ID, LONGEST_NAME, PlayerError, PlayersTable, Row, read_players, write_players
from game.practice_log.database.identity import PLAYER_FILE, Identity, read_identity, write_identity
from game.text.clean_text import cleaned

LOG_FILE = "practice.sqlite"
PLAYER_VARIABLE = "HOMEFRET_PLAYER"
_FOLDER = "players"


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A player as they are known on this computer. `name` may be empty for the first one; `folder` holds the log,
    `settings_path` need not be there yet.
    """

    name: str
    folder: Path
    settings_path: Path

    @property
    def log_path(self) -> Path:
        """Where the practice log is, or will be."""
        return self.folder / LOG_FILE


def players() -> tuple[Profile, ...]:
    """All players, the first one first, the others in the order in which they came. Raises `PlayerError`."""
    return _players_of(read_players().without_faults())


def chosen_player(name: str | None = None) -> Profile:
    """The player called `name`, by default the one that `HOMEFRET_PLAYER` names, else the first. Capitals and spaces
    around do not matter. Raises `PlayerError` for a name that nobody has.
    """
    wanted = cleaned(os.environ.get(PLAYER_VARIABLE, "") if name is None else name, LONGEST_NAME)
    if not wanted:
        return first_player()
    known = players()
    player = _called(wanted, known)
    if player is not None:
        return player
    raise _nobody_called(wanted, known)


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingPlayer:
    """Who plays when the game begins, and what stood in the way of somebody else; None where nothing did."""

    player: Profile
    trouble: PlayerError | None = None


def player_at_start() -> StartingPlayer:
    """Who plays when the game begins: the one that `HOMEFRET_PLAYER` names, else who was chosen last on screen, else
    the first. A table with faults is used as far as it makes sense.
    """
    read, wanted = read_players(), cleaned(os.environ.get(PLAYER_VARIABLE, ""), LONGEST_NAME)
    if not wanted:
        last = (_player(row) for row in read.table.players if row.folder == read.table.last)
        return StartingPlayer(player=next(last, first_player()), trouble=read.trouble)
    known = _players_of(read.table)
    player = _called(wanted, known)
    if player is not None:
        return StartingPlayer(player=player, trouble=read.trouble)
    return StartingPlayer(player=first_player(), trouble=read.trouble or _nobody_called(wanted, known))


def remember_chosen(player: Profile) -> None:
    """Remember who was chosen on screen, for the next start. Raises `PlayerError` where that cannot be written."""
    table = read_players().without_faults()
    folder_id = player.folder.name if player.folder != first_player().folder else FIRST_ID
    if folder_id == table.last:
        return
    try:
        write_players(msgspec.structs.replace(table, last=folder_id))
    except OSError as error:
        raise PlayerError("player.choice_not_kept", folder=user_data(), reason=reason_of(error)) from error


def add_player(name: str, *, new_uuid: Callable[[], UUID] = uuid4) -> Profile:
    """A new player, with a folder of their own. Raises `PlayerError` for no name, one that is taken, or a folder that
    cannot be written.
    """
    name = free_name(name)
    row = Row(folder=new_uuid().hex, name=name)
    player = _player(row)
    try:
        player.folder.mkdir(parents=True)
        write_identity(player.folder / PLAYER_FILE, Identity(uuid=new_uuid(), name=name))
        table = read_players().without_faults()
        write_players(msgspec.structs.replace(table, players=(*table.players, row)))
    except OSError as error:
        raise PlayerError("player.cannot_be_added", folder=user_data(), reason=reason_of(error)) from error
    return player


def free_name(name: str, *, of: Profile | None = None) -> str:
    """A name made clean that nobody has, or only the player `of` it. Raises `PlayerError` where there is none, or it
    is taken.
    """
    name = cleaned(name, LONGEST_NAME)
    if not name:
        raise PlayerError("player.name_unreadable")
    if _called(name, tuple(player for player in players() if of is None or player.folder != of.folder)):
        raise PlayerError("player.already_there", name=name)
    return name


def first_player() -> Profile:
    """The player there always is, by the name they were given, if ever."""
    kept = read_identity(user_data() / PLAYER_FILE, Identity)
    name = "" if kept is None else cleaned(kept.name, LONGEST_NAME)
    return Profile(name=name, folder=user_data(), settings_path=user_settings())


def _players_of(table: PlayersTable) -> tuple[Profile, ...]:
    return (first_player(), *map(_player, table.players))


def _player(row: Row) -> Profile:
    return Profile(
        name=row.name,
        folder=user_data() / _FOLDER / row.folder,
        settings_path=user_settings().parent / _FOLDER / row.folder / "settings.json",
    )


def _called(wanted: str, known: tuple[Profile, ...]) -> Profile | None:
    return next((player for player in known if player.name.casefold() == wanted.casefold()), None)


def _nobody_called(wanted: str, known: tuple[Profile, ...]) -> PlayerError:
    names = tuple(player.name for player in known if player.name) or (message("player.nobody_yet"),)
    return PlayerError("player.unknown", given=wanted, names=names)
