"""When each passage earned its marks: folded from what the coach heard, whatever it said then, for another device may
have known the other half. A part of the sums beside the log (`sums_file`).
"""

import sqlite3
from datetime import date
from uuid import UUID

import msgspec

from game.coach.earned_marks import EarnedMarks
from game.coach.events import PageCutAnew, PagePlayed, PassageFacts, TakeResult
from game.coach.marks import Mark, SignOff
from game.coach.numbers import NUMBERS
from game.coach.records import PassageRecord
from game.practice_log.queries.coach_events import events_of
from game.practice_log.queries.entry_order import Position
from game.practice_log.queries.sums_file import Part
from game.practice_log.queries.take_sightings import SIGHTINGS
from game.practice_log.rows.row_values import json_array

_MARK = "number INTEGER PRIMARY KEY, passage TEXT NOT NULL, mark TEXT NOT NULL, day TEXT NOT NULL, upto_us INTEGER"
_EMPTY = (
    "DROP TABLE IF EXISTS summaries.mark",
    "DROP TABLE IF EXISTS summaries.marks_so_far",
    f"CREATE TABLE summaries.mark ({_MARK})",
    "CREATE TABLE summaries.marks_so_far (upto_us INTEGER PRIMARY KEY, kept BLOB NOT NULL)",
)
"""Tables without a row: the marks in the order in which they were earned, under the names that passages had then; and
what the next ones go on from, for each cut of the log that is kept.
"""


_EARNED = "INSERT INTO summaries.mark (passage, mark, day, upto_us) VALUES (?, ?, ?, ?)"
_INHERITED = """
INSERT INTO summaries.mark (passage, mark, day, upto_us)
SELECT ?1, mark, MAX(day), ?2 FROM summaries.mark
WHERE passage IN (SELECT value FROM json_each(?3)) AND mark = ?4 GROUP BY mark
"""
"""What a page that was cut anew has from former ones, on the day on which the last of them earned it."""

READ = "read"
"""Stands among the marks for bars that were right at first sight."""


class _Record(msgspec.Struct, frozen=True, array_like=True):
    """What marks depend on, of the record of a passage."""

    name: str
    day: int
    takes_today: int
    marks: tuple[Mark, ...]
    sign_offs: tuple[SignOff, ...]
    read_day: int | None


class _SoFar(msgspec.Struct, frozen=True):
    """`EarnedMarks` in a file."""

    records: list[_Record]
    names: dict[str, str]


def _forget(connection: sqlite3.Connection, after: Position) -> None:
    for table in ("mark", "marks_so_far"):
        connection.execute(f"DELETE FROM summaries.{table} WHERE upto_us > ?", (after.moment_us,))


def _add(connection: sqlite3.Connection, player: UUID, after: Position, upto: Position) -> None:
    earned = _so_far(connection, after)
    rows: list[tuple[str, str, str, int]] = []
    for happening in events_of(connection, player, after=after, upto=upto, find_times=False):
        name, marks, read = earned.hear(happening)
        words = (*(mark.value for mark in marks), *((READ,) if read else ()))
        if not words:
            # Most earn nothing.
            continue
        if isinstance(happening, TakeResult | PagePlayed):
            result = happening.result if isinstance(happening, PagePlayed) else happening
            day = date.fromordinal(result.day).isoformat()
            rows += [(name, word, day, upto.moment_us) for word in words]
        elif isinstance(happening, PageCutAnew):
            connection.executemany(_EARNED, rows)
            rows.clear()
            names = {page.name for page in happening.former}
            former = json_array(sorted(names | {earned.names.get(one, one) for one in names}))
            connection.executemany(_INHERITED, [(name, upto.moment_us, former, word) for word in words])
    connection.executemany(_EARNED, rows)
    connection.execute(
        "DELETE FROM summaries.marks_so_far WHERE upto_us NOT IN (SELECT moment_us FROM summaries.cut WHERE part = ?)",
        (MARKS.name,),
    )
    kept = (upto.moment_us, msgspec.msgpack.encode(_packed(earned)))
    connection.execute("INSERT OR REPLACE INTO summaries.marks_so_far VALUES (?, ?)", kept)


def _so_far(connection: sqlite3.Connection, after: Position) -> EarnedMarks:
    row = connection.execute("SELECT kept FROM summaries.marks_so_far WHERE upto_us = ?", (after.moment_us,)).fetchone()
    if row is None:
        return EarnedMarks()
    kept = msgspec.msgpack.decode(row[0], type=_SoFar)
    return EarnedMarks({one.name: _record(one) for one in kept.records}, kept.names)


def _packed(earned: EarnedMarks) -> _SoFar:
    records = [
        _Record(name, record.day, record.takes_today, record.marks, record.sign_offs, record.read_day)
        for name, record in earned.records.items()
    ]
    return _SoFar(records=records, names=dict(earned.names))


def _record(kept: _Record) -> PassageRecord:
    return PassageRecord(
        facts=PassageFacts(name=kept.name),
        day=kept.day,
        takes_today=kept.takes_today,
        marks=kept.marks,
        sign_offs=kept.sign_offs,
        read_day=kept.read_day,
    )


_RULES = "4"
"""One more whenever marks are earned by other rules: 2 since they ask for time too, and what was said stays, 3 since
what was right at first sight is marked as read, 4 since pages may be cut anew, and are played
within the whole.
"""

MARKS = Part(name="marks", rules=_RULES + repr(NUMBERS) + SIGHTINGS.rules, empty=_EMPTY, forget=_forget, add=_add)
"""How the marks are made of the log."""
