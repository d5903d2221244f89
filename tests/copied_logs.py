"""New logs that are copied from one that was made before: its ninety tables, indexes and rules come about one by one,
which takes longer than most of what a test then does with them.

What migrating does is proved by tests that migrate themselves; where everything is asked for, all logs are made so.
"""

import sqlite3
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import Any

from game.practice_log.database import known_tables, store
from game.practice_log.database.migrations import MIGRATIONS, Migration, migrate
from game.practice_log.foreign import filling
from game.practice_log.rows.row_values import utc_text

_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
# By the number of migrations, and by what stands in the head of the file: whose it is.
_made: dict[tuple[int, int], sqlite3.Connection] = {}


def copy_logs(put: Callable[[Any, str, object], None] = setattr) -> None:
    """Have whatever makes a log in this process copy it from now on."""
    for module in (store, known_tables, filling):
        put(module, "migrate", _migrate)


def _migrate(
    connection: sqlite3.Connection, *, now_utc: datetime, migrations: Sequence[Migration] = MIGRATIONS
) -> None:
    """As `migrate`, which does it where anything is there already, or steps are asked for that are none of ours."""
    if migrations and tuple(migrations) == MIGRATIONS[: len(migrations)] and _is_empty(connection):
        when = utc_text(now_utc)
        _log_of(len(migrations), _owner(connection)).backup(connection)
        connection.execute("UPDATE migration SET applied_utc = ?", (when,))
    else:
        migrate(connection, now_utc=now_utc, migrations=migrations)


def _is_empty(connection: sqlite3.Connection) -> bool:
    return not _has_tables(connection) and _is_empty_when_locked(connection)


def _is_empty_when_locked(connection: sqlite3.Connection) -> bool:
    # As every step begins: where another program holds the log, or the disk refuses it, this is where it is said.
    connection.execute("BEGIN IMMEDIATE")
    try:
        return not _has_tables(connection)
    finally:
        connection.execute("ROLLBACK")


def _has_tables(connection: sqlite3.Connection) -> bool:
    (has_any,) = connection.execute("SELECT EXISTS (SELECT 1 FROM sqlite_master)").fetchone()
    return bool(has_any)


def _owner(connection: sqlite3.Connection) -> int:
    (owner,) = connection.execute("PRAGMA application_id").fetchone()
    return owner


def _log_of(count: int, owner: int) -> sqlite3.Connection:
    if (count, owner) not in _made:
        made = _made[count, owner] = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
        made.execute(f"PRAGMA application_id = {owner}")
        migrate(made, now_utc=_LONG_AGO, migrations=MIGRATIONS[:count])
    return _made[count, owner]
