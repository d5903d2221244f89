"""A connection to a school's database, and in one sentence why there is none.

PostgreSQL's library is loaded when a school is asked for, and not before.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, TypeAlias
from uuid import UUID

from game.errors import LogError
from game.practice_log.school.school_address import without_password
from game.text.clean_text import cleaned

if TYPE_CHECKING:
    from psycopg import Connection

SchoolConnection: TypeAlias = "Connection[Any]"
"""What `school_connection` gives."""

EXTRA = "psycopg[binary]>=3.1,<4"
"""What pip is to install where the library is missing: the extra `school` in pyproject.toml."""

SCHEMA = "homefret"
"""All that is ours lies in one schema of the database: others may stand beside it."""

_WAITS_S = "10"
_WAITS_FOR_OTHERS_S = 120
"""Whoever brings a student of years is done sooner: what is held longer is held by somebody who forgot it. Ours."""

_VALUE = re.compile(r"(?<![:\w]):([a-z_]\w*)")
_ID_LENGTH = 16


class AskedSchool:
    """A school's database, asked as the file of a class is (`AskedClass`): values by name, `:today`."""

    def __init__(self, connection: "Connection[Any]") -> None:
        self._connection = connection

    def execute(self, statement: str, values: dict[str, Any], /) -> Any:
        """The rows of a statement; ids come as `UUID`, and may be given as that or as 16 bytes."""
        return self._connection.execute(by_name(statement).encode(), {key: _id(one) for key, one in values.items()})


def by_name(statement: str) -> str:
    """A statement for SQLite as psycopg reads it."""
    return _VALUE.sub(r"%(\1)s", statement.replace("%", "%%"))


@contextmanager
def school_connection(address: str) -> Iterator["Connection[Any]"]:
    """The database at an address, each statement a transaction of its own, until the end of the `with`. Raises
    `LogError`, also for what the database refuses meanwhile; no message holds the password.
    """
    try:
        import psycopg  # noqa: PLC0415 - only who has a school needs it
    except ImportError as error:
        raise LogError("school.extra_missing", extra=EXTRA) from error
    shown = without_password(address)
    connection = _connected(address, shown)
    try:
        with connection:
            connection.execute(f"SET search_path TO {SCHEMA}, pg_temp".encode())
            connection.execute(f"SET lock_timeout TO '{_WAITS_FOR_OTHERS_S}s'".encode())
            yield connection
    except psycopg.Error as error:
        # What the library says may hold what was sent: of a connection that was lost only that it was.
        raise _refusal(error, shown) from None


def _connected(address: str, shown: str) -> "Connection[Any]":
    import psycopg  # noqa: PLC0415
    from psycopg import conninfo, pq  # noqa: PLC0415

    try:
        told = conninfo.conninfo_to_dict(address)
    except psycopg.Error:
        raise LogError("school.no_address", address=shown) from None
    told.setdefault("connect_timeout", _WAITS_S)
    told |= {"application_name": "homefret", "client_encoding": "UTF8"}
    given = conninfo.make_conninfo("", **told)
    try:
        connection = psycopg.connect(given, autocommit=True)
    except (psycopg.Error, UnicodeError, OSError):
        # Whether it is there is asked apart: its own words are in whatever language it speaks, and may tell more.
        if pq.PGconn.ping(given.encode()) == pq.Ping.OK:
            raise LogError("school.not_let_in", address=shown) from None
        # Whoever answers without encryption alone shows a certificate that is not trusted, or has none.
        bare = conninfo.make_conninfo(given, sslmode="disable", gssencmode="disable")
        key = "school.not_trusted" if pq.PGconn.ping(bare.encode()) == pq.Ping.OK else "school.away"
        raise LogError(key, address=shown) from None
    connection.adapters.register_loader("numeric", _number_loader())
    return connection


def _number_loader() -> Any:
    from psycopg.adapt import Loader  # noqa: PLC0415

    class WholeNumberLoader(Loader):
        """Sums of whole numbers are whole numbers, as in SQLite."""

        def load(self, data: Any) -> Any:
            text = bytes(data).decode()
            return int(text) if text.lstrip("-").isdigit() else float(text)

    return WholeNumberLoader


def _refusal(error: Exception, shown: str) -> LogError:
    """What to say of what a database refuses, by its code (PostgreSQL's manual, appendix A)."""
    import psycopg  # noqa: PLC0415
    from psycopg import errors  # noqa: PLC0415

    match error:
        case errors.InsufficientPrivilege():
            return LogError("school.no_right", address=shown)
        case errors.UndefinedTable() | errors.InvalidSchemaName() | errors.UndefinedColumn():
            return LogError("school.not_set_up", address=shown)
        case errors.DiskFull() | errors.OutOfMemory():
            return LogError("school.full", address=shown)
        case errors.LockNotAvailable() | errors.DeadlockDetected():
            return LogError("school.busy", address=shown)
        case psycopg.OperationalError() | psycopg.InterfaceError():
            return LogError("school.lost", address=shown)
    code = getattr(error, "sqlstate", None) or type(error).__name__
    return LogError("school.refused", address=shown, reason=cleaned(str(code), 60))


def _id(value: Any) -> Any:
    return UUID(bytes=value) if isinstance(value, bytes) and len(value) == _ID_LENGTH else value
