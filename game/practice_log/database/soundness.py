"""Whether a log is sound, asked at the start before anything is written to it: one that is damaged, or in which
somebody planted something, is left as it is, and so is the file of a newer program.
"""

import re
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from game.message import Message, message
from game.practice_log.database.known_tables import known_columns, known_objects, objects_in
from game.practice_log.database.migrations import MIGRATIONS, applied, columns_of
from game.practice_log.database.store import APPLICATION_ID, BUSY_S

CHECKED_AT_ONCE_BYTES = 30_000_000
"""A log up to this size is gone through while the player waits: a fifth of a second."""

_LONGEST_S = 10.0
_HEADER_BYTES = 100
_SQLITE = b"SQLite format 3\x00"
"""How a file begins, the size of its pages from byte 16 on (SQLite, "Database File Format", 1.3)."""

_STEPS_BETWEEN_LOOKS = 100_000
_JOURNAL = "-wal"
_MOST_NAMED = 5


class DamageKind(Enum):
    """What is wrong with a log."""

    NO_LOG = "no log"
    BROKEN = "broken"
    FOREIGN_JOURNAL = "foreign journal"
    PLANTED = "planted"
    NEWER = "newer"
    SHORTER = "shorter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage:
    """What is wrong, and the sentence that says so."""

    kind: DamageKind
    told: Message


def damage_of(log: Path, *, whole: bool = False) -> Damage | None:
    """What is wrong with a log that nobody is using; None where nothing is, or where there is none. Where it lies
    cannot be opened now is not its fault. `whole` goes through a large log too, however long that takes.
    """
    if not log.exists() or (log.is_file() and not log.stat().st_size):
        return None
    if not log.is_file():
        return _damage(DamageKind.NO_LOG, "damage.no_file")
    with suppress(OSError):
        if is_cut_off(log):
            return _damage(DamageKind.BROKEN, "damage.broken")
    if journal_is_foreign(log, whole=whole or _is_small(log)):
        return _damage(DamageKind.FOREIGN_JOURNAL, "damage.foreign_journal")
    try:
        with closing(_opened(log)) as connection:
            return _found(connection, go_through=whole or _is_small(log))
    except sqlite3.Error as error:
        return _meaning(error)


def schema_damage(log: Path) -> Damage | None:
    """What stands in a log that may be in use and is not as we made it, told without going through it: of a view that
    somebody planted nothing may ever be asked.
    """
    try:
        with closing(_opened(log)) as connection:
            found = _found(connection, go_through=False)
    except sqlite3.Error:
        return None
    return found if found and found.kind is DamageKind.PLANTED else None


def is_cut_off(log: Path) -> bool:
    """Whether the end of a file is gone. SQLite takes a very short one for an empty one, and begins anew in it; and of
    a page that is there in part it takes the rest for zeros.
    """
    size, page_bytes = log.stat().st_size, page_bytes_of(log)
    journal = log.with_name(log.name + _JOURNAL)
    # A crash may leave a page in part, too, while all of it stands in the journal.
    in_journal = journal.is_file() and journal.stat().st_size > 0
    return 0 < size < _HEADER_BYTES or (page_bytes > 0 and size % page_bytes != 0 and not in_journal)


def page_bytes_of(log: Path) -> int:
    """The size of the pages of a file of SQLite; 0 for any other. Raises `OSError`."""
    with log.open("rb") as file:
        header = file.read(_HEADER_BYTES)
    size = int.from_bytes(header[16:18], "big") if header.startswith(_SQLITE) else 0
    return 65_536 if size == 1 else size


def journal_is_foreign(log: Path, *, whole: bool = True) -> bool:
    """Whether the journal beside a log belongs to another one, or to an older state of it: with it, what stands in the
    file itself would be gone, or nothing would hang together. Unless all of it is gone through, only the former is
    asked: a large log takes seconds, and a crash leaves a journal beside every one.
    """
    journal = log.with_name(log.name + _JOURNAL)
    if not journal.is_file() or not journal.stat().st_size:
        return False
    try:
        with closing(_opened(log, "immutable=1")) as alone:
            if whole:
                _ask_for_order(alone)
            newest = _newest_rows(alone)
    except sqlite3.Error:
        # The file lacks what the journal holds, or is damaged: then it is not the journal's fault.
        return False
    try:
        if not whole:
            with closing(_opened(log)) as both:
                return not _contains_all(both, newest)
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(folder) / "log.sqlite"
            shutil.copyfile(log, copy)
            shutil.copyfile(journal, f"{copy}{_JOURNAL}")
            with closing(_opened(copy)) as both:
                _ask_for_order(both)
                return not _contains_all(both, newest)
    except sqlite3.Error as error:
        return whole or _meaning(error) is not None
    except OSError:
        return False


def _is_small(log: Path) -> bool:
    return log.stat().st_size <= CHECKED_AT_ONCE_BYTES


def _contains_all(connection: sqlite3.Connection, newest: dict[str, tuple[object, ...]]) -> bool:
    return all(_contains(connection, table, row) for table, row in newest.items())


def _found(connection: sqlite3.Connection, *, go_through: bool) -> Damage | None:
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    tables = objects_in(connection)
    if mark != APPLICATION_ID and (mark or tables):
        return _damage(DamageKind.NO_LOG, "damage.no_log")
    done = applied(connection)
    known = [migration.name for migration in MIGRATIONS]
    if not set(done) <= set(known):
        return _damage(DamageKind.NEWER, "damage.newer")
    if strange := _strange(tables, len(done)):
        names = tuple(sorted(strange))[:_MOST_NAMED]
        return _damage(DamageKind.PLANTED, "damage.planted", names=names)
    if go_through:
        with _only_for(connection, _LONGEST_S):
            _ask_for_order(connection)
    return None


def _strange(found: set[tuple[str, str, str]], migrations: int) -> set[str]:
    """The names of what no log of ours holds, of what is there in another form, and of what lacks."""
    known = {(kind, name): _form(kind, sql) for kind, name, sql in known_objects()}
    there = {(kind, name): _form(kind, sql) for kind, name, sql in found}
    lacking = set(known_columns(migrations)) - {name for kind, name in there if kind == "table"}
    return {name for (kind, name), form in there.items() if known.get((kind, name)) != form} | lacking


def _form(kind: str, sql: str) -> str:
    """What of a thing's SQL must be as we wrote it: what it does where it does something by itself."""
    return re.sub(r"\s+", " ", sql) if kind in ("trigger", "view") else sql[: len("CREATE TABLE")].upper()


def _ask_for_order(connection: sqlite3.Connection) -> None:
    """Raises `sqlite3.DatabaseError` where the pages do not hang together."""
    (word,) = connection.execute("PRAGMA quick_check(1)").fetchone()
    if word != "ok":
        raise sqlite3.DatabaseError(word)


def _newest_rows(connection: sqlite3.Connection) -> dict[str, tuple[object, ...]]:
    """The last row of each table that has a number of its own."""
    rows: dict[str, tuple[object, ...]] = {}
    for table in known_columns():
        if table in columns_of(connection, table):
            row = connection.execute(f"SELECT * FROM {table} ORDER BY {table} DESC LIMIT 1").fetchone()
            rows |= {table: row} if row else {}
    return rows


def _contains(connection: sqlite3.Connection, table: str, row: tuple[object, ...]) -> bool:
    if table not in columns_of(connection, table):
        return False
    number = columns_of(connection, table).index(table)
    found = connection.execute(f"SELECT * FROM {table} WHERE {table} = ?", (row[number],)).fetchone()
    # The moment of an entry may change; its key may not.
    return found is not None and found[:5] == row[:5]


@contextmanager
def _only_for(
    connection: sqlite3.Connection, seconds: float, now_s: Callable[[], float] = time.monotonic
) -> Iterator[None]:
    end_s = now_s() + seconds
    connection.set_progress_handler(lambda: now_s() > end_s, _STEPS_BETWEEN_LOOKS)
    try:
        yield
    finally:
        connection.set_progress_handler(None, 0)


def _opened(path: Path, more: str = "") -> sqlite3.Connection:
    address = f"{path.resolve().as_uri()}?mode=ro&{more}".rstrip("&")
    connection = sqlite3.connect(address, uri=True, timeout=BUSY_S, isolation_level=None)
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    return connection


def _meaning(error: sqlite3.Error) -> Damage | None:
    """What an error says of the log itself; None where it could only not be opened now, or not be gone through."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_CORRUPT) & 0xFF
    if code == sqlite3.SQLITE_NOTADB:
        return _damage(DamageKind.NO_LOG, "damage.no_log")
    if isinstance(error, sqlite3.OperationalError) and code not in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_ERROR):
        return None
    return _damage(DamageKind.BROKEN, "damage.broken")


def _damage(kind: DamageKind, key: str, **values: object) -> Damage:
    return Damage(kind=kind, told=message(key, **values))
