"""A list of a class in CSV, as spreadsheets write it, which says how students are called: `id,name`, or the name of a
file and a name; and in a further column under the heading `initials` (or `Initialen`), of whom no more than initials
stand on pages, in tables and answers: whoever has a cross, a yes or the like there.

In UTF-8, with its mark or without, or in the letters of a Western Windows; divided by commas, semicolons or tabs; with
a line of headings or without. Under headings that say so (`id`, `file`; `name`) the columns may stand in any order.
"""

import csv
import io
import re
import sqlite3
import unicodedata
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from uuid import UUID

from game.errors import LogError, reason_of
from game.message import Message, message
from game.practice_log.database.migrations import transaction
from game.practice_log.foreign.plain_files import refuse_no_plain_file
from game.text.clean_text import cleaned
from game.text.initials import initials_of_all

LONGEST_NAME = 60
_MOST_BYTES, _MOST_LINES = 1_000_000, 10_000
_DIVIDERS = ",;\t"
_DIVIDER_LINE = re.compile(r"sep=[,;\t]\r?\n", re.IGNORECASE)
"""What some spreadsheets write before all else (trade)."""

_NO_TEXT = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")
"""What stands in sheets that were not saved as text, and in no list."""

_FEWEST_CELLS = 2
_WHO = frozenset({"id", "file", "filename", "kennung", "datei", "dateiname"})
_NAMES = frozenset({"name", "student", "schüler", "schülerin"})
_INITIALS = frozenset({"initials", "initialen"})
_YES = _INITIALS | {"x", "y", "yes", "j", "ja", "1", "true", "wahr"}
_NO = frozenset({"", "-", "n", "no", "nein", "0", "false", "falsch"})
"""What spreadsheets and teachers write into such a column (trade), in English and German."""


@dataclass(frozen=True, slots=True)
class ClassList:
    """Names by ids, and by names of files (small letters, with and without their ending), empty for those who keep the
    name they have; which of these ids and files stand by their `initials`; what is to be said of lines that make no
    sense; and in which line of which `file` each id or file stands last.
    """

    by_id: Mapping[UUID, str] = field(default_factory=dict)
    by_file: Mapping[str, str] = field(default_factory=dict)
    initials: frozenset[UUID | str] = frozenset()
    faults: tuple[Message, ...] = ()
    file: str = ""
    lines: Mapping[UUID | str, int] = field(default_factory=dict)

    def names_one_of(self, ids: Collection[UUID], paths: Iterable[str], names: Collection[str]) -> bool:
        """Whether somebody stands in it, by an id, by a file, or by a name they are called."""
        by_file = {told for path in paths for told in _names_of(path)}
        called = {*self.by_id.values(), *self.by_file.values()} - {""}
        told = self.by_id.keys() & set(ids) or self.by_file.keys() & by_file or called & set(names)
        return bool(told)


def read_class_list(path: Path) -> ClassList:
    """The list in a file. Raises `LogError` for one that cannot be read at all."""
    by_id: dict[UUID, str] = {}
    by_file: dict[str, str] = {}
    by_initials: set[UUID | str] = set()
    lines: dict[UUID | str, int] = {}
    faults: list[Message] = []
    columns = _Columns()
    first = True
    for line, cells in _rows(path):
        told = [cleaned(unicodedata.normalize("NFC", cell), 200) for cell in cells]
        if not any(told):
            continue
        who, name = columns.of(told)
        uuid = _uuid(who)
        is_heading, first = first and uuid is None and not _is_file_name(who), False
        if is_heading:
            columns = _columns_under(told)
            continue
        wanted = _wants_initials(told, columns.initials)
        if not who or not (name or wanted) or len(told) < _FEWEST_CELLS or _runs_on(cells):
            faults.append(message("class.list_line", file=path.name, line=line))
            continue
        if wanted is None:
            faults.append(message("class.list_initials", file=path.name, line=line))
        if wanted is not False:
            by_initials.add(uuid or who.casefold())
        lines[uuid or who.casefold()] = line
        name = cleaned(name, LONGEST_NAME)
        before = by_file.get(who.casefold(), name) if uuid is None else by_id.get(uuid, name)
        if before != name:
            faults.append(message("class.list_twice", file=path.name, line=line, who=who, before=before, name=name))
        if uuid is not None:
            by_id[uuid] = name
        else:
            by_file[who.casefold()] = name
    return ClassList(by_id, by_file, frozenset(by_initials), tuple(faults), path.name, lines)


@dataclass(frozen=True, slots=True)
class _Columns:
    """In which columns, counted from 0, a list says who somebody is, how they are called, and, None for none, of whom
    no more than initials stand there.
    """

    who: int = 0
    name: int = 1
    initials: int | None = None

    def of(self, told: Sequence[str]) -> tuple[str, str]:
        """Who and name of a line, empty where it is too short."""
        who, name = (told[at] if at < len(told) else "" for at in (self.who, self.name))
        return who, name


def _columns_under(headings: Sequence[str]) -> _Columns:
    """The columns by their headings; where these do not say both who and name, the first two."""

    def at(names: frozenset[str]) -> int | None:
        return next((at for at, heading in enumerate(headings) if heading.casefold() in names), None)

    who, name, initials = at(_WHO), at(_NAMES), at(_INITIALS)
    return _Columns(initials=initials) if who is None or name is None else _Columns(who, name, initials)


def _nobody(_: UUID) -> bool:
    """Nobody was erased."""
    return False


def name_students(
    connection: sqlite3.Connection, names: ClassList, is_erased: Callable[[UUID], bool] = _nobody
) -> tuple[Message, ...]:
    """Call students as a list does, and by their own names those that are not in it; returns what is to be said of
    names in the list that nobody of the class has, but for ids of whoever was erased. A line with an id counts before
    one with a file. Nothing is written where all are called so already.
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
    before = dict(connection.execute("SELECT student, named FROM student").fetchall())
    new = [(ids.get(one, ""), one) for one, name in before.items() if ids.get(one, "") != name]
    if new:
        with transaction(connection):
            connection.executemany("UPDATE student SET named = ? WHERE student = ?", new)
    by_id = (_missing(names, who, name) for who, name in names.by_id.items() if who not in used and not is_erased(who))
    by_file = (_missing(names, who, name) for who, name in names.by_file.items() if who not in used)
    return (*by_id, *by_file)


def _missing(names: ClassList, who: UUID | str, name: str) -> Message:
    """What is said of somebody who is in a list alone; what is said may stand on a page."""
    if who in names.initials:
        return message("class.list_nobody_there", file=names.file, line=names.lines[who])
    return message("class.list_nobody", name=name or str(who), who=str(who))


def _wants_initials(told: list[str], column: int | None) -> bool | None:
    """What a line says of initials; None where that cannot be told, which counts as yes."""
    if column is None:
        # A list without headings.
        return any(cell.casefold() in _INITIALS for cell in told[_FEWEST_CELLS:])
    said = told[column].casefold() if column < len(told) else ""
    return True if said in _YES else False if said in _NO else None


def _names_of(path: str) -> tuple[str, ...]:
    """By which a list may name a file: its path, its name, its name without the ending."""
    # A Mac writes an ü into the name of a file as u and two dots.
    pure = PurePosixPath(unicodedata.normalize("NFC", path))
    return tuple(dict.fromkeys((path.casefold(), pure.name.casefold(), pure.stem.casefold())))


def _runs_on(cells: Sequence[str]) -> bool:
    """Whether a line goes on where a quote was not closed, and swallows what stands below: lines with columns of their
    own. A line that was broken within a cell is a space.
    """
    below = (cell.strip().partition("\n")[2] for cell in cells)
    return any(divider in swallowed for swallowed in below for divider in _DIVIDERS)


def _rows(path: Path) -> list[tuple[int, list[str]]]:
    """The rows of a list, each with the number of its line."""
    text = _text(path)
    before = _DIVIDER_LINE.match(text)
    text = text[before.end() :] if before else text
    first = text.lstrip().partition("\n")[0]
    divider = max(_DIVIDERS, key=first.count)
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=divider)
        rows, begins = [], 2 if before else 1
        for cells in reader:
            rows.append((begins, cells))
            begins = reader.line_num + (2 if before else 1)
    except csv.Error as error:
        raise LogError("class.list_unreadable", file=path.name, reason=error) from error
    if len(rows) > _MOST_LINES:
        raise LogError("class.list_too_long", file=path.name, limit=_MOST_LINES)
    return rows


def _text(path: Path) -> str:
    if not path.exists() and not path.is_symlink():
        raise LogError("class.no_list", file=path)
    if refuse_no_plain_file(path) > _MOST_BYTES:
        raise LogError("class.list_too_long", file=path.name, limit=_MOST_LINES)
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=path, reason=reason_of(error)) from error
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace")
    if _NO_TEXT.search(raw):
        raise LogError("class.list_no_text", file=path.name)
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
