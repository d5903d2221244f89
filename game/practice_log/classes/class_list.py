"""A list of a class in CSV, as spreadsheets write it, which says how students are called: `id,name`, or the name of a
file and a name; and in a further column under the heading `initials` (or `Initialen`), of whom no more than initials
stand on pages, in tables and answers: whoever has a cross, a yes or the like there.

In UTF-8, with its mark or without, or in the letters of a Western Windows; divided by commas, semicolons or tabs; with
a line of headings or without.
"""

import csv
import io
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from uuid import UUID

from game.errors import LogError
from game.message import Message, message
from game.practice_log.database.migrations import transaction
from game.practice_log.foreign.plain_files import refuse_no_plain_file
from game.text.clean_text import cleaned
from game.text.initials import initials_of_all

LONGEST_NAME = 60
_MOST_BYTES, _MOST_LINES = 1_000_000, 10_000
_DIVIDERS = ",;\t"
_FEWEST_CELLS = 2
_INITIALS = frozenset({"initials", "initialen"})
_YES = _INITIALS | {"x", "y", "yes", "j", "ja", "1", "true", "wahr"}
_NO = frozenset({"", "-", "n", "no", "nein", "0", "false", "falsch"})
"""What spreadsheets and teachers write into such a column (trade), in English and German."""


@dataclass(frozen=True, slots=True)
class ClassList:
    """Names by ids, and by names of files (small letters, with and without their ending), empty for those who keep the
    name they have; which of these ids and files stand by their `initials`; what is to be said of lines that make no
    sense.
    """

    by_id: Mapping[UUID, str] = field(default_factory=dict)
    by_file: Mapping[str, str] = field(default_factory=dict)
    initials: frozenset[UUID | str] = frozenset()
    faults: tuple[Message, ...] = ()


def read_class_list(path: Path) -> ClassList:
    """The list in a file. Raises `LogError` for one that cannot be read at all."""
    by_id: dict[UUID, str] = {}
    by_file: dict[str, str] = {}
    by_initials: set[UUID | str] = set()
    faults: list[Message] = []
    column = None
    for number, cells in enumerate(_rows(path), start=1):
        told = [cleaned(cell, 200) for cell in cells]
        if not any(told):
            continue
        who, name = (*told, "")[:2]
        uuid = _uuid(who)
        if number == 1 and uuid is None and not _is_file_name(who):
            column = next((at for at, cell in enumerate(told) if cell.casefold() in _INITIALS), None)
            continue
        wanted = _wants_initials(told, column)
        if not who or not (name or wanted) or len(told) < _FEWEST_CELLS:
            faults.append(message("class.list_line", file=path.name, line=number))
            continue
        if wanted is None:
            faults.append(message("class.list_initials", file=path.name, line=number))
        if wanted is not False:
            by_initials.add(uuid or who.casefold())
        if uuid is not None:
            by_id[uuid] = cleaned(name, LONGEST_NAME)
        else:
            by_file[who.casefold()] = cleaned(name, LONGEST_NAME)
    return ClassList(by_id, by_file, frozenset(by_initials), tuple(faults))


def name_students(connection: sqlite3.Connection, names: ClassList) -> tuple[Message, ...]:
    """Call students as a list does, and by their own names those that are not in it; returns what is to be said of
    names in the list that nobody of the class has. A line with an id counts before one with a file.
    """
    ids: dict[bytes, str] = {}
    used: set[UUID | str] = set()
    by_initials: set[bytes] = set()
    for student, path in connection.execute("SELECT student, path FROM delivery ORDER BY path").fetchall():
        for told in _names_of(path):
            if told in names.by_file:
                ids.setdefault(student, names.by_file[told])
                used.add(told)
                by_initials |= {student} if told in names.initials else set()
    for student, player in connection.execute("SELECT student, player FROM same_player ORDER BY player").fetchall():
        uuid = UUID(bytes=player)
        if uuid in names.by_id:
            ids[student] = names.by_id[uuid] or ids.get(student, "")
            used.add(uuid)
            by_initials |= {student} if uuid in names.initials else set()
    own = dict(connection.execute("SELECT student, name FROM student").fetchall())
    shown = {one: ids.get(one) or own[one] for one in by_initials if one in own}
    ids |= initials_of_all(shown, {one: UUID(bytes=one) for one in shown})
    with transaction(connection):
        connection.execute("UPDATE student SET named = '' WHERE named <> ''")
        connection.executemany("UPDATE student SET named = ? WHERE student = ?", [(n, one) for one, n in ids.items()])
    missing = [name or str(key) for key, name in (*names.by_id.items(), *names.by_file.items()) if key not in used]
    return tuple(message("class.list_nobody", name=name) for name in missing)


def _wants_initials(told: list[str], column: int | None) -> bool | None:
    """What a line says of initials; None where that cannot be told, which counts as yes."""
    if column is None:
        # A list without headings.
        return any(cell.casefold() in _INITIALS for cell in told[_FEWEST_CELLS:])
    said = told[column].casefold() if column < len(told) else ""
    return True if said in _YES else False if said in _NO else None


def _names_of(path: str) -> tuple[str, ...]:
    """By which a list may name a file: its path, its name, its name without the ending."""
    pure = PurePosixPath(path)
    return tuple(dict.fromkeys((path.casefold(), pure.name.casefold(), pure.stem.casefold())))


def _rows(path: Path) -> list[list[str]]:
    text = _text(path)
    first = text.partition("\n")[0]
    divider = max(_DIVIDERS, key=first.count)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=divider))
    except csv.Error as error:
        raise LogError("class.list_unreadable", file=path.name, reason=error) from error
    if len(rows) > _MOST_LINES:
        raise LogError("class.list_too_long", file=path.name, limit=_MOST_LINES)
    return rows


def _text(path: Path) -> str:
    if refuse_no_plain_file(path) > _MOST_BYTES:
        raise LogError("class.list_too_long", file=path.name, limit=_MOST_LINES)
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=path, reason=error.strerror or error) from error
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _uuid(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None


def _is_file_name(text: str) -> bool:
    """Whether the first line names a file: else it is a line of headings."""
    return PurePosixPath(text).suffix.casefold() in (".zip", ".sqlite")
