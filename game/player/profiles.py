"""Who plays on this computer: each player has a folder with their log, and settings of their own; tunes are shared.

The first player has no name and lives where a single player always did. The others stand in a table, `players.json`
beside that log: their names lead to folders by ids of ours, so a name is only ever text. The table also keeps who
was chosen last on screen.
"""

import json
import os
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from uuid import UUID, uuid4

from game.errors import HomefretError
from game.paths import user_data, user_settings
from game.practice_log.database.identity import kept_identity
from game.text.clean_text import cleaned

PLAYER_VARIABLE = "HOMEFRET_PLAYER"
_TABLE, _FOLDER = "players.json", "players"
_FIRST_ID = ""
_ID = re.compile(r"[0-9a-f]{32}")
LONGEST_NAME = 60


class PlayerError(HomefretError):
    """A player who is not here, or cannot be added."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """Folder ids and names of all but the first player, and the folder id of who was chosen last."""

    rows: tuple[tuple[str, str], ...] = ()
    last: str = _FIRST_ID


@dataclass(frozen=True, slots=True, kw_only=True)
class Player:
    """A player of this computer. `name` is empty for the first one; `folder` holds the log, `settings_path` need not
    be there yet.
    """

    name: str
    folder: Path
    settings_path: Path


def players() -> tuple[Player, ...]:
    """All players, the first one first, the others in the order in which they came. Raises `PlayerError`."""
    return (first(), *(_player(folder_id, name) for folder_id, name in _table().rows))


def chosen_player(name: str | None = None) -> Player:
    """The player called `name`, by default the one that `HOMEFRET_PLAYER` names, else the first. Capitals and spaces
    around do not matter. Raises `PlayerError` for a name that nobody has.
    """
    wanted = cleaned(os.environ.get(PLAYER_VARIABLE, "") if name is None else name, LONGEST_NAME)
    if not wanted:
        return first()
    known = players()
    for player in known:
        if player.name.casefold() == wanted.casefold():
            return player
    names = ", ".join(player.name for player in known if player.name) or "nobody yet"
    raise PlayerError("player.player_here_add_them", wanted=wanted, names=names)


def player_at_start() -> Player:
    """Who plays when the game begins: the one that `HOMEFRET_PLAYER` names, else who was chosen last on screen, else
    the first. Raises `PlayerError` for a name that nobody has.
    """
    if os.environ.get(PLAYER_VARIABLE):
        return chosen_player()
    table = _table()
    return next((_player(folder_id, name) for folder_id, name in table.rows if folder_id == table.last), first())


def keep_chosen(player: Player) -> None:
    """Remember who was chosen on screen, for the next start. Raises `PlayerError` where that cannot be written."""
    table = _table()
    folder_id = player.folder.name if player.folder != first().folder else _FIRST_ID
    if folder_id == table.last:
        return
    try:
        _write_table(replace(table, last=folder_id))
    except OSError as error:
        raise PlayerError(
            "player.who_plays_kept_choose", user_data=user_data(), strerror=error.strerror or error
        ) from error


def add_player(name: str, *, new_uuid: Callable[[], UUID] = uuid4) -> Player:
    """A new player, with a folder of their own. Raises `PlayerError` for no name, one that is taken, or a folder that
    cannot be written.
    """
    name = cleaned(name, LONGEST_NAME)
    if not name:
        raise PlayerError("player.player_needs_name_read")
    if any(player.name.casefold() == name.casefold() for player in players()):
        raise PlayerError("player.player_already_choose_another", name=name)
    folder_id = new_uuid().hex
    player = _player(folder_id, name)
    try:
        player.folder.mkdir(parents=True)
        kept_identity(player.folder / "player.json", name=name)
        _share_device(player.folder)
        table = _table()
        _write_table(replace(table, rows=(*table.rows, (folder_id, name))))
    except OSError as error:
        raise PlayerError(
            "player.player_added_free", user_data=user_data(), strerror=error.strerror or error
        ) from error
    return player


def first() -> Player:
    """The player there always is."""
    return Player(name="", folder=user_data(), settings_path=user_settings())


def _player(folder_id: str, name: str) -> Player:
    return Player(
        name=name,
        folder=user_data() / _FOLDER / folder_id,
        settings_path=user_settings().parent / _FOLDER / folder_id / "settings.json",
    )


def _share_device(folder: Path) -> None:
    """One computer is one device, whoever plays on it."""
    device = kept_identity(user_data() / "device.json")
    kept_identity(folder / "device.json", name=device.name, new_uuid=lambda: device.uuid)


def _table() -> _Table:
    path = user_data() / _TABLE
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        rows = tuple((str(row["folder"]), cleaned(str(row["name"]), LONGEST_NAME)) for row in kept["players"])
        last = str(kept.get("last", _FIRST_ID))
    except FileNotFoundError:
        return _Table()
    except OSError as error:
        raise PlayerError("player.players_read", path=path, strerror=error.strerror or error) from error
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise PlayerError("player.table_players_makes_sense", path=path) from error
    if not all(_ID.fullmatch(folder_id) for folder_id, _ in rows):
        raise PlayerError("player.table_players_names_folder", path=path)
    return _Table(rows=rows, last=last)


def _write_table(table: _Table) -> None:
    path = user_data() / _TABLE
    rows = [{"folder": folder_id, "name": name} for folder_id, name in table.rows]
    draft = path.with_suffix(".new")
    draft.write_text(
        json.dumps({"players": rows, "last": table.last}, ensure_ascii=False, indent=2) + "\n", encoding="utf-8"
    )
    draft.replace(path)
