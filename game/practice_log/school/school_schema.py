"""The tables of a school's database: those of a gathered class, divided by student, and who may see whom.

They come about step by step, each in one transaction with its record; what holds a step that is unknown here was set up
by a newer program. What is kept of students can all be gathered again, so its tables are made anew where a program
keeps something else; who teaches whom, who was erased, and for how long it is kept, stays.
"""

from typing import TYPE_CHECKING, Any

from game.errors import LogError
from game.practice_log.classes.class_schema import CLASS_VERSION, TABLES, table_statements
from game.practice_log.school.school_connection import SCHEMA
from game.practice_log.school.school_roles import OWNER, make_roles, settle_rights

if TYPE_CHECKING:
    from psycopg import Connection

PARTITIONS = 16
"""In a school of five thousand each part holds three hundred students; all rows of one student are in one part."""

OLDEST = 130000
"""PostgreSQL 13, as the server counts; the oldest that is tested is Debian 12's."""

OWN_STEPS = (
    (
        "who teaches whom",
        (
            "CREATE TABLE teacher_class (teacher TEXT NOT NULL, class TEXT NOT NULL, PRIMARY KEY (teacher, class))",
            "CREATE TABLE erased (player_hash TEXT NOT NULL PRIMARY KEY, day TEXT NOT NULL)",
        ),
    ),
    (
        "for how many months",
        ("CREATE TABLE keeping (row SMALLINT NOT NULL PRIMARY KEY CHECK (row = 1), months INTEGER NOT NULL)",),
    ),
)
"""What is added only, never changed: a later step brings what a later program needs."""

EXTRA_TABLES: dict[str, tuple[tuple[str, str], ...]] = {
    "day_sums": (
        ("day", "TEXT NOT NULL"),
        ("minutes", "DOUBLE PRECISION NOT NULL"),
        ("takes", "INTEGER NOT NULL"),
        ("read", "INTEGER NOT NULL"),
        ("clean", "INTEGER NOT NULL"),
        ("read_timed", "INTEGER NOT NULL"),
        ("clean_timed", "INTEGER NOT NULL"),
    ),
    "class_student": (("class", "TEXT NOT NULL"), ("source", "TEXT NOT NULL")),
    "brought": (("source", "TEXT NOT NULL"), ("called", "UUID NOT NULL"), ("fingerprint", "TEXT NOT NULL")),
}
"""Tables by student that a class's file has not. `day_sums` is what a head sees. A student is in a class for a source
(a folder that is gathered), and what a source brought of them last, under the id they have there, has a fingerprint.
"""

EXTRA_KEYS = {"day_sums": ("day",), "class_student": ("class", "source"), "brought": ("source", "called")}
STUDENT_TABLES = (*TABLES, *EXTRA_TABLES)

_SET_UP_LOCK = 0x486F4664
"""Taken by whoever sets up, and shared by whoever brings a student: "HoFd" in ASCII."""

_CLASS_STEP = "class "
_VERSION = "CREATE TABLE IF NOT EXISTS schema_version (name TEXT NOT NULL PRIMARY KEY, applied TIMESTAMPTZ NOT NULL)"
_EXTRA_INDEXES = (
    "CREATE INDEX day_sums_by_day ON day_sums (day, student)",
    "CREATE INDEX class_student_by_class ON class_student (class)",
)


def set_up_school(connection: "Connection[Any]") -> None:
    """Make the roles and tables that are missing, and set the rights of all anew. To be done by a superuser, any number
    of times. Raises `LogError` for a database that is too old, has the letters of one language only, or was set up by a
    newer program.
    """
    _refuse_unfit(connection)
    with connection.transaction():
        _lock(connection)
        make_roles(connection)
        connection.execute(f"CREATE SCHEMA IF NOT EXISTS {SCHEMA} AUTHORIZATION {OWNER}".encode())
        _as_owner(connection, _VERSION)
    for name, statements in _steps():
        with connection.transaction():
            # Only one at a time, and asked again behind the lock: another may just have done it.
            _lock(connection)
            done = _done(connection)
            _refuse_newer(done)
            if name not in done:
                if name.startswith(_CLASS_STEP):
                    _drop_class(connection)
                _as_owner(connection, *statements)
                _as_owner(connection, f"INSERT INTO schema_version VALUES ('{name}', CURRENT_TIMESTAMP)")
    with connection.transaction():
        _lock(connection)
        settle_rights(connection)


def refuse_other_version(connection: "Connection[Any]") -> None:
    """Raises `LogError` for a database that is older or newer than the program."""
    done = _done(connection)
    _refuse_newer(done)
    if not {name for name, _ in _steps()} <= done:
        raise LogError("school.older")


def hold_version(connection: "Connection[Any]") -> None:
    """Keep whoever sets up waiting until the end of the transaction, and be sure of the version."""
    connection.execute("SELECT pg_advisory_xact_lock_shared(%s)", (_SET_UP_LOCK,))
    refuse_other_version(connection)


def class_statements() -> tuple[str, ...]:
    """The statements that make the tables of students, each in sixteen parts."""
    # Text is ordered by its code points, as in SQLite, whatever language the server speaks.
    made = [
        statement.replace(" TEXT", ' TEXT COLLATE "C"')
        for statement in table_statements(id_type="UUID", ending=" PARTITION BY HASH (student)")
    ]
    for table, columns in EXTRA_TABLES.items():
        told = "".join(f"{name} {kind}, " for name, kind in columns).replace(" TEXT", ' TEXT COLLATE "C"')
        key = ", ".join(("student", *EXTRA_KEYS[table]))
        made.append(
            f"CREATE TABLE {table} (student UUID NOT NULL, {told}PRIMARY KEY ({key})) PARTITION BY HASH (student)"
        )
    made += [
        f"CREATE TABLE {table}_{part} PARTITION OF {table} FOR VALUES WITH (MODULUS {PARTITIONS}, REMAINDER {part})"
        for table in STUDENT_TABLES
        for part in range(PARTITIONS)
    ]
    return (*made, *_EXTRA_INDEXES)


def _steps() -> tuple[tuple[str, tuple[str, ...]], ...]:
    return (*OWN_STEPS, (f"{_CLASS_STEP}{CLASS_VERSION}", class_statements()))


def _refuse_unfit(connection: "Connection[Any]") -> None:
    if connection.info.server_version < OLDEST:
        raise LogError("school.server_too_old", wanted=OLDEST // 10000)
    if connection.info.parameter_status("server_encoding") != "UTF8":
        raise LogError("school.not_utf8")


def _refuse_newer(done: set[str]) -> None:
    if newer := done - {name for name, _ in OWN_STEPS}:
        numbers = [int(name.removeprefix(_CLASS_STEP)) for name in newer if name[len(_CLASS_STEP) :].isdigit()]
        if len(numbers) < len(newer) or max(numbers) > CLASS_VERSION:
            raise LogError("class.by_newer")


def _done(connection: "Connection[Any]") -> set[str]:
    return {name for (name,) in connection.execute("SELECT name FROM schema_version").fetchall()}


def _drop_class(connection: "Connection[Any]") -> None:
    """What another version kept of students, and its record."""
    kept = {"teacher_class", "erased", "keeping", "schema_version"}
    tables = connection.execute(
        "SELECT relname FROM pg_class WHERE relnamespace = %s::regnamespace AND relkind IN ('r', 'p') "
        "AND NOT relispartition",
        (SCHEMA,),
    ).fetchall()
    if gone := [f'"{name}"' for (name,) in tables if name not in kept]:
        # In one statement: who sees a table goes by what stands in another.
        _as_owner(connection, f"DROP TABLE {', '.join(gone)}")
    _as_owner(connection, f"DELETE FROM schema_version WHERE name LIKE '{_CLASS_STEP}%'")


def _as_owner(connection: "Connection[Any]", *statements: str) -> None:
    connection.execute(f"SET LOCAL ROLE {OWNER}".encode())
    for statement in statements:
        connection.execute(statement.encode())
    connection.execute("RESET ROLE")


def _lock(connection: "Connection[Any]") -> None:
    connection.execute("SELECT pg_advisory_xact_lock(%s)", (_SET_UP_LOCK,))
