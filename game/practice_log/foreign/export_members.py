"""The members of an export of the first form, tables as JSON lines, opened with caps: in the child with limits."""

import zipfile
from collections.abc import Iterator

import msgspec

from game.errors import LogError
from game.practice_log.database.known_tables import known_columns
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.foreign.exported_rows import exported_rows
from game.practice_log.foreign.row_lines import FileHead, TableHead, row_lines
from game.practice_log.transfer.contents import CONTENTS, FORMAT, TABLES, TABLES_VERSION
from game.text.clean_text import cleaned

MAX_CONTENTS_BYTES = 1_000_000
MAX_MEMBERS = 1_000
MAX_BYTES = 2_000_000_000
_SHOWN = frozenset({"title", "name", "first", "last", "bar"})
"""Columns that people will see."""
_ENTRIES, _ENTRIES_CAME_WITH = "entry", "entries"


class _Kind(msgspec.Struct, frozen=True):
    """What comes first to be known of a file: whether this program knows its kind."""

    format: object


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


def export_contents(archive: zipfile.ZipFile, name: str) -> bytes:
    """The `contents.json` of an export of any form. Raises `LogError` for a file that is none."""
    if len(archive.filelist) > MAX_MEMBERS:
        raise LogError("transfer.too_many_members", file=name, count=len(archive.filelist))
    if CONTENTS not in archive.namelist():
        raise LogError("export.no_contents", file=name, contents=CONTENTS)
    # The size in the archive's own list may lie: read one byte more than is allowed and see.
    with archive.open(CONTENTS) as member:
        text = member.read(MAX_CONTENTS_BYTES + 1)
    if len(text) > MAX_CONTENTS_BYTES:
        raise LogError("export.contents_too_long", file=name, contents=CONTENTS)
    kind = msgspec.json.decode(text, type=_Kind).format
    if kind != FORMAT:
        raise LogError("export.another_format", file=name, given=cleaned(str(kind), 40))
    return text


def on_one_line(text: bytes) -> msgspec.Raw:
    """JSON as a part of a line. Raises `msgspec.MsgspecError` for what is none."""
    return msgspec.Raw(msgspec.json.format(text, indent=-1))


def _checked(archive: zipfile.ZipFile, name: str) -> tuple[bytes, list[str]]:
    text = export_contents(archive, name)
    said = msgspec.json.decode(text, type=_Version)
    if said.version != TABLES_VERSION or not {migration.name for migration in MIGRATIONS}.issuperset(said.migrations):
        raise LogError("export.by_newer", file=name)
    if sum(info.file_size for info in archive.infolist()) > MAX_BYTES:
        raise LogError("export.too_large", file=name, limit_gb=MAX_BYTES // 1000000000)
    return text, said.migrations
