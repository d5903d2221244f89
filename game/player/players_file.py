"""The table of the players of this computer, `players.json` beside the first one's log.

Names lead to folders by ids of ours, so a name is only ever text. All faults of the file are told at once, and a file
with faults is never written over.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import msgspec
from msgspec import Meta
from msgspec.inspect import StructType, type_info

from game.errors import HomefretError, reason_of
from game.message import message
from game.paths import user_data
from game.player.file_faults import LEFT_OUT, AnyFault, Fault
from game.player.json_file import JsonFileError, read_table, with_unknown, write_table
from game.text.clean_text import cleaned

LONGEST_NAME = 60
FIRST_ID = ""
"""In the place of a folder's id: the player there always is."""
# Ours: more than any school has at one computer. Longer names are cut, absurd ones refused.
_MOST_PLAYERS, _LONGEST_IN_FILE = 1000, 1000


class PlayerError(HomefretError):
    """A player who is not here, or cannot be added."""


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """A player but the first: the id of their folder, and their name."""

    folder: Annotated[str, Meta(max_length=32, pattern="^[0-9a-f]{32}$")]
    name: Annotated[str, Meta(max_length=_LONGEST_IN_FILE)]


class PlayersTable(msgspec.Struct, frozen=True, kw_only=True):
    """The `players` in the order in which they came, and the folder id of who was chosen `last`."""

    players: Annotated[tuple[Row, ...], Meta(max_length=_MOST_PLAYERS)]
    last: Annotated[str, Meta(max_length=32)] = FIRST_ID


_NOBODY = PlayersTable(players=())


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadTable:
    """As much of the table as makes sense, and what is wrong with the rest; None where nothing is."""

    table: PlayersTable = _NOBODY
    trouble: PlayerError | None = None

    def without_faults(self) -> PlayersTable:
        """The table, where it needs no mending. Raises `PlayerError` with every fault."""
        if self.trouble:
            raise self.trouble
        return self.table


def read_players() -> ReadTable:
    """The table as it is kept; an empty one where there is no file."""
    path = _path()
    try:
        given = read_table(path)
    except FileNotFoundError:
        return ReadTable()
    except OSError as error:
        return ReadTable(trouble=PlayerError("player.table_unreadable", file=path, reason=reason_of(error)))
    except JsonFileError as error:
        return ReadTable(trouble=PlayerError("player.table_no_sense", file=path, fault=error))
    from game.player.field_checks import Checks  # noqa: PLC0415 - most computers have no such table

    checks = Checks()
    usable = checks.struct(_declared(), given)
    table, broken = (_NOBODY, []) if usable is LEFT_OUT else _each_once(msgspec.convert(usable, PlayersTable))
    told = tuple(fault.told for fault in (*checks.faults, *broken))
    trouble = PlayerError("player.table_has_faults", file=path, faults=told) if told else None
    return ReadTable(table=table, trouble=trouble)


def write_players(table: PlayersTable) -> None:
    """Keep a table in the place of one without faults; what a newer version wrote into it stays. Raises `OSError`."""
    path = _path()
    try:
        old = read_table(path)
    except FileNotFoundError:
        old = {}
    write_table(with_unknown(msgspec.to_builtins(table), old, _declared()), path)


def _each_once(table: PlayersTable) -> tuple[PlayersTable, list[AnyFault]]:
    """The rows whose name can be read, each name and each folder once: capitals do not make another name."""
    rows: dict[str, Row] = {}
    faults: list[AnyFault] = []
    for row in table.players:
        name = cleaned(row.name, LONGEST_NAME)
        if not name or name.casefold() in rows:
            faults.append(Fault(("players", "name"), row.name, message("player.expected_name_of_its_own")))
        elif any(row.folder == other.folder for other in rows.values()):
            faults.append(Fault(("players", "folder"), row.folder, message("player.expected_folder_of_its_own")))
        else:
            rows[name.casefold()] = Row(folder=row.folder, name=name)
    return PlayersTable(players=tuple(rows.values()), last=table.last), faults


def _declared() -> StructType:
    declared = type_info(PlayersTable)
    assert isinstance(declared, StructType)
    return declared


def _path() -> Path:
    return user_data() / "players.json"
