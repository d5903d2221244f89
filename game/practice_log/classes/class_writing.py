"""A student's rows into the file of a class: what is there already stays, what is new or was judged anew is put in, and
what is no longer in any of their files is taken out.
"""

import sqlite3
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import closing
from itertools import chain
from typing import Any, NamedTuple
from uuid import UUID

from game.practice_log.classes.class_projection import (
    ClassProjection,
    Row,
    TakeRow,
    items_asked,
    mark_rows,
    note_rows,
    passage_row,
    projected,
    put_notes,
)
from game.practice_log.classes.class_schema import insert_statement, student_tables
from game.practice_log.database.migrations import transaction
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.row_values import json_array


class SetPart(NamedTuple):
    """A stage of a part of an assignment, as its row. `digest` tells the assignment, `set_in` is its title, `part`
    counts from 0; `stage` is empty where the coach chooses, and for fresh lines, which count when all their stages are
    done. `title` is that of a tune or its file, empty for lines, which have a `level` and so many `a_day`. `due` is
    empty where no day was set, `opened_day` where the student never opened it. It takes so many `steps` (pages of a
    tune, days of lines), and `step_days` are the days on which those that are done were done, oldest first with a space
    between; `done_day` is None as long as it is not done. Days are the student's, such as "2026-11-30".
    """

    digest: str
    part: int
    stage: str
    title: str
    due: str = ""
    done_day: str | None = None
    set_in: str = ""
    opened_day: str = ""
    withdrawn: int = 0
    first_bar: int | None = None
    last_bar: int | None = None
    level: int | None = None
    a_day: int | None = None
    target_bpm: int | None = None
    steps: int = 1
    step_days: str = ""


PartsOf = Callable[[sqlite3.Connection, UUID], Iterable[SetPart]]
"""What was set in a log, and what of it is done: whoever knows assignments says so."""


def no_parts(_log: sqlite3.Connection, _player: UUID) -> tuple[SetPart, ...]:
    """For whoever asks nothing about assignments."""
    return ()


def put_practice(into: sqlite3.Connection, student: UUID, log: sqlite3.Connection, parts_of: PartsOf = no_parts) -> int:
    """Bring a student's rows up to what their log holds; returns how many takes were put in. To be called in a
    transaction of the class's file. The entries of the log are under the student's id.

    Raises `LogError` for a log whose rows make no sense.
    """
    with figures_of(log, student) as figures:
        rows = _StudentRows(into, student, log)
        rows.put_parts(parts_of(log, student))
        return rows.put(projected(log, student, figures))


def image_of_practice(
    log: sqlite3.Connection, student: UUID, there: Mapping[str, Sequence[Row]], parts_of: PartsOf = no_parts
) -> tuple[bytes, int]:
    """A class that holds this student alone, as bytes, brought from the rows that were `there` up to what their log
    holds: single notes are in it only of takes that are new or were judged anew. And how many takes are new.

    Raises as `put_practice` does.
    """
    log.execute(f"ATTACH ':memory:' AS {_IMAGE}")
    try:
        # Made of bytes, it is given back as bytes without being copied.
        log.deserialize(_image_of(there), name=_IMAGE)
        with figures_of(log, student) as figures:
            parts, now = tuple(parts_of(log, student)), projected(log, student, figures)
            with transaction(log):
                rows = _StudentRows(log, student, log, within=_IMAGE)
                rows.put_parts(parts)
                takes = rows.put(now)
            del now
        return log.serialize(name=_IMAGE), takes
    finally:
        log.execute(f"DETACH {_IMAGE}")


def _image_of(rows: Mapping[str, Sequence[Row]]) -> bytes:
    """A class that holds these rows, by table."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as image:
        with transaction(image):
            for statement in student_tables(id_type="BLOB", ending=" WITHOUT ROWID"):
                image.execute(statement)
            for table, known in rows.items():
                image.executemany(insert_statement(table), known)
        return image.serialize()


_IMAGE = "image_of_class"


class _StudentRows:
    """The rows of one student on their way into a class, which is called `within` in its connection: that of the log,
    or another.
    """

    def __init__(
        self, into: sqlite3.Connection, student: UUID, log: sqlite3.Connection, *, within: str = "main"
    ) -> None:
        self._into, self._student, self._log, self._within = into, student.bytes, log, within

    def put_parts(self, parts: Iterable[SetPart]) -> None:
        """What was set, and done."""
        self._anew("set_part", parts)

    def put(self, now: ClassProjection) -> int:
        """All that the log comes to; how many takes are new."""
        passages = self._numbered("passage", "passage_key", [(passage.key,) for passage in now.passages])
        bars = self._numbered(
            "bars", "title, first, last, start_bar, stop_bar, passage", _bars_rows(now.takes, passages)
        )
        self._put_passages(now, passages)
        few = (
            ("day", now.days),
            ("slow_note", now.slow),
            ("neck_map", now.maps),
            ("held", (now.held,)),
            ("marked_take", now.marked),
            ("assignment", now.assignments),
        )
        for table, rows in few:
            self._anew(table, rows)
        self._anew("bars", [(number, passage, *named) for (*named, passage), number in bars.items()])
        return self._put_takes(now.takes, passages, bars)

    def _put_passages(self, now: ClassProjection, passages: dict[Row, int]) -> None:
        numbered = [(passages[(passage.key,)], passage) for passage in now.passages]
        self._anew("passage", [(number, *passage_row(passage)) for number, passage in numbered])
        self._anew("mark", [(number, *mark) for number, passage in numbered for mark in mark_rows(passage)])

    def _put_takes(self, takes: Sequence[TakeRow], passages: dict[Row, int], bars: dict[Row, int]) -> int:
        there = {
            row[1]: row
            for row in self._rows(f"SELECT take, entry_key, judged_key FROM {self._within}.take WHERE student = ?")
        }
        judged_anew = [take for take in takes if there.get(take.entry_key, (0, 0, None))[2] != take.judged_key]
        gone = there.keys() - {take.entry_key for take in takes}
        stale = [there[key][0] for key in chain(gone, (take.entry_key for take in judged_anew)) if key in there]
        self._take_out("note", "take", stale)
        numbers = self._numbers_of_takes(takes, {key: row[0] for key, row in there.items() if key not in gone})
        rows = {numbers[take.entry_key]: self._row(take, numbers, passages, bars) for take in takes}
        self._replace_takes(rows)
        self._put_notes([(numbers[take.entry_key], take.when[0]) for take in judged_anew])
        return len([take for take in judged_anew if take.entry_key not in there])

    def _row(self, take: TakeRow, numbers: dict[int, int], passages: dict[Row, int], bars: dict[Row, int]) -> Row:
        key, *named = take.bars
        passage = passages[(key,)]
        of_bars = bars[(*named, passage)]
        return (
            self._student, numbers[take.entry_key], take.entry_key, take.judged_key, *take.when, of_bars, passage,
            *take.what,
        )  # fmt: skip

    def _replace_takes(self, rows: dict[int, Row]) -> None:
        """Only those rows are written that are others than before."""
        there = {row[1]: row for row in self._rows(f"SELECT * FROM {self._within}.take WHERE student = ?")}
        other = [number for number, row in there.items() if rows.get(number) != row]
        self._take_out("take", "take", other)
        new = [row for number, row in rows.items() if there.get(number) != row]
        self._into.executemany(self._insert("take"), new)

    def _put_notes(self, takes: Sequence[tuple[int, int]]) -> None:
        """The notes of takes by their numbers and places."""
        if not takes:
            return
        items = self._numbered("item", "written, sounding, string, fret", items_asked(self._log))
        self._anew("item", [(number, *item) for item, number in items.items()])
        if self._into is self._log:
            # Nothing of it comes up to here: that takes a quarter of the time.
            put_notes(self._log, self._student, takes, items, within=self._within)
        else:
            rows = note_rows(self._log, self._student, takes, items)
            self._into.executemany(self._insert("note"), rows)

    def _numbers_of_takes(self, takes: Sequence[TakeRow], there: dict[int, int]) -> dict[int, int]:
        """Takes keep their numbers; new ones get the next."""
        (highest,) = self._rows(f"SELECT COALESCE(MAX(take), 0) FROM {self._within}.take WHERE student = ?")[0]
        new = [take.entry_key for take in takes if take.entry_key not in there]
        return there | {key: number for number, key in enumerate(new, start=highest + 1)}

    def _numbered(self, table: str, columns: str, rows: Iterable[Row]) -> dict[Row, int]:
        """The numbers of what many takes share: those that are there, and the next ones for what is new."""
        found = self._rows(f"SELECT {table}, {columns} FROM {self._within}.{table} WHERE student = ?")
        numbers = {tuple(rest): number for number, *rest in found}
        highest = max(numbers.values(), default=0)
        for row in rows:
            if row not in numbers:
                highest += 1
                numbers[row] = highest
        return numbers

    def _anew(self, table: str, rows: Iterable[Row]) -> None:
        """Few rows, written anew where they are others than before."""
        wanted = [(self._student, *row) for row in rows]
        there = self._rows(f"SELECT * FROM {self._within}.{table} WHERE student = ?")
        if set(there) != set(wanted):
            self._into.execute(f"DELETE FROM {self._within}.{table} WHERE student = ?", (self._student,))
            self._into.executemany(self._insert(table), wanted)

    def _take_out(self, table: str, column: str, numbers: Sequence[int]) -> None:
        if numbers:
            statement = (
                f"DELETE FROM {self._within}.{table} WHERE student = ? AND {column} IN (SELECT value FROM json_each(?))"
            )
            self._into.execute(statement, (self._student, json_array(numbers)))

    def _insert(self, table: str) -> str:
        return insert_statement(table, within=self._within)

    def _rows(self, statement: str) -> list[tuple[Any, ...]]:
        return self._into.execute(statement, (self._student,)).fetchall()


def _bars_rows(takes: Sequence[TakeRow], passages: dict[Row, int]) -> list[Row]:
    return list(dict.fromkeys((*take.bars[1:], passages[(take.bars[0],)]) for take in takes))
