"""A player's name, given anew: it stands in the log, so that it goes where the log goes."""

import sqlite3
from datetime import datetime
from pathlib import Path

from game.errors import LogError, reason_of
from game.practice_log.database.migrations import transaction
from game.practice_log.database.opening import opened_log
from game.practice_log.database.own_device import own_device
from game.practice_log.database.own_player import own_player
from game.practice_log.rows.entry_rows import About, Recorded, put_fact
from game.practice_log.rows.shared_rows import put_device, put_player


def record_name(log: Path, name: str, *, now: datetime) -> None:
    """The player of a log is called `name` from now on; without a log nothing happens. Raises `LogError` where it
    cannot be written.
    """
    if not log.exists():
        return
    player, device = own_player(log), own_device(log.parent)
    try:
        with opened_log(log) as connection, transaction(connection):
            recorded = Recorded(put_device(connection, device), put_player(connection, player), now)
            put_fact(connection, recorded, About.PLAYER_NAME, {"name": name})
    except sqlite3.Error as error:
        raise LogError("log.file_unreadable", file=log, fault=reason_of(error)) from error
