"""A player is called otherwise from now on: in the table of this computer, beside their log, and in it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

import msgspec

from game.clock import wall_time
from game.errors import reason_of
from game.player.players_file import PlayerError, Row, read_players, write_players
from game.player.profiles import Profile, first_player, free_name
from game.practice_log.database.identity import PLAYER_FILE, Identity, write_identity
from game.practice_log.database.own_player import own_player
from game.practice_log.writing.player_name import record_name


def rename_player(player: Profile, name: str, now: Callable[[], datetime] = wall_time) -> Profile:
    """The player by their new name. Raises `PlayerError` for no name, one that another has, or a folder that cannot be
    written, and `LogError` for a log that cannot be: then all is as it was.
    """
    name = free_name(name, of=player)
    table = read_players().without_faults()
    record_name(player.log_path, name, now=now())
    try:
        identity = own_player(player.log_path, name=name)
        write_identity(player.folder / PLAYER_FILE, Identity(uuid=identity.uuid, name=name))
        if player.folder != first_player().folder:
            rows = tuple(_renamed(row, player, name) for row in table.players)
            write_players(msgspec.structs.replace(table, players=rows))
    except OSError as error:
        raise PlayerError("player.cannot_be_renamed", folder=player.folder, reason=reason_of(error)) from error
    return replace(player, name=name)


def _renamed(row: Row, player: Profile, name: str) -> Row:
    return msgspec.structs.replace(row, name=name) if row.folder == player.folder.name else row
