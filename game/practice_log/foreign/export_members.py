"""The members of an export of the first form, tables as JSON lines, opened with caps: in the child with limits."""

import zipfile
from collections.abc import Iterator

import msgspec

from game.errors import LogError
from game.practice_log.database.known_tables import known_columns
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.foreign.export_contents import MAX_BYTES, export_contents, on_one_line
from game.practice_log.foreign.exported_rows import exported_rows
from game.practice_log.foreign.row_lines import FileHead, TableHead, row_lines
from game.practice_log.transfer.contents import TABLES, TABLES_VERSION

_SHOWN = frozenset({"title", "name", "first", "last", "bar"})
"""Columns that people will see."""
_ENTRIES, _ENTRIES_CAME_WITH = "entry", "entries"


class _Version(msgspec.Struct, frozen=True):
    """And whether it is not of a newer one, whose contents may be others."""

    version: object
    migrations: list[str]


class _Columns(msgspec.Struct, frozen=True):
    columns: dict[str, list[str]]


def export_rows(archive: zipfile.ZipFile, name: str, *, most_rows: int) -> Iterator[bytes]:
    """The rows of an export as lines. `name` is what to call it in a refusal.

    Raises `LogError` for what is no export of ours; for a damaged one what `zipfile` and the decoding of rows raise.
    """
    text, migrations = _checked(archive, name)
    columns = msgspec.json.decode(text, type=_Columns).columns
    if _ENTRIES not in columns and _ENTRIES_CAME_WITH in migrations:
        # Exports of this form never carried entries: they are made from the rows, as for a log of before.
        migrations = migrations[: migrations.index(_ENTRIES_CAME_WITH)]
    yield row_lines([FileHead(migrations=migrations, contents=on_one_line(text))])
    there = set(archive.namelist())
    room = most_rows
    for table in TABLES:
        names = columns.get(table, [])
        if f"{table}.jsonl" not in there or not names:
            continue
        if not set(names) <= set(known_columns()[table]) or len(set(names)) != len(names):
            raise ValueError(f"columns of {table} that are none")
        yield row_lines([TableHead(table=table, columns=names)])
        for rows in exported_rows(archive, table, [index for index, column in enumerate(names) if column in _SHOWN]):
            room -= len(rows)
            if room < 0:
                raise ValueError("too many rows")
            yield row_lines(rows)


def _checked(archive: zipfile.ZipFile, name: str) -> tuple[bytes, list[str]]:
    text = export_contents(archive, name)
    said = msgspec.json.decode(text, type=_Version)
    if said.version != TABLES_VERSION or not {migration.name for migration in MIGRATIONS}.issuperset(said.migrations):
        raise LogError("export.by_newer", file=name)
    if sum(info.file_size for info in archive.infolist()) > MAX_BYTES:
        raise LogError("export.too_large", file=name, limit_gb=MAX_BYTES // 1000000000)
    return text, said.migrations
