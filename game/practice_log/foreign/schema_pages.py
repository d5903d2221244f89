"""The pages in which a file says which tables it has and where they begin, put back where they are damaged.

Logs that this program made came about in the same steps, so that their tables begin on the same pages: these pages are
those of a log that is made now. In a log that an older program began, tables may begin elsewhere; then what is read by
them makes no sense together, and is not taken for anything.
"""

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from game.practice_log.database.migrations import migrate
from game.practice_log.database.soundness import page_bytes_of
from game.practice_log.database.store import APPLICATION_ID

_INTERIOR_TABLE_PAGE = 5
_FILE_HEADER_BYTES, _VERSIONS_AT, _PAGE_COUNT_AT = 100, 18, 28
_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)


def put_own_schema(log: Path) -> None:
    """Write the schema of a log of today over that of a file, which is a copy. Raises `OSError` or `sqlite3.Error`."""
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "log.sqlite"
        with closing(sqlite3.connect(made, isolation_level=None)) as connection:
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            migrate(connection, now_utc=_LONG_AGO)
        page_bytes, content = page_bytes_of(made), made.read_bytes()
    with log.open("r+b") as file:
        for page in _schema_pages(content, page_bytes):
            file.seek((page - 1) * page_bytes)
            file.write(content[(page - 1) * page_bytes : page * page_bytes])
        # As many pages as there are, none of them free, and no journal (1.3.2, 1.3.8 and 1.3.9).
        file.seek(_VERSIONS_AT)
        file.write(bytes((1, 1)))
        file.seek(_PAGE_COUNT_AT)
        file.write((log.stat().st_size // page_bytes).to_bytes(4, "big") + bytes(8))


def _schema_pages(content: bytes, page_bytes: int) -> Iterator[int]:
    """The first page and those below it (SQLite, "Database File Format", 1.6): the schema has two levels at most."""
    yield 1
    header = content[_FILE_HEADER_BYTES:page_bytes]
    if header[0] == _INTERIOR_TABLE_PAGE:
        cells = int.from_bytes(header[3:5], "big")
        yield int.from_bytes(header[8:12], "big")
        for index in range(cells):
            at = int.from_bytes(header[12 + 2 * index : 14 + 2 * index], "big")
            yield int.from_bytes(content[at : at + 4], "big")
