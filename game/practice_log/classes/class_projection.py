"""What is kept of a student's log in a class: a projection of the log, made by the log's own code.

All that counts is asked of the sums of the log (`queries.summaries`, `queries.figures`), which the game and every
report ask too; nothing is counted here.
"""

import hashlib
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from operator import attrgetter
from typing import Any, NamedTuple
from uuid import UUID

from game.coach.numbers import NUMBERS
from game.music.score import Reading
from game.practice_log.classes.class_schema import CAUSES, TABLES, VERDICTS
from game.practice_log.queries.facts import facts_about
from game.practice_log.queries.figure_records import DayFigures, PassageFigures
from game.practice_log.queries.figures import SHARES, Figures
from game.practice_log.queries.figures_sql import CLEAN_TAKE
from game.practice_log.queries.marked_takes import most_marked_lately
from game.practice_log.queries.summaries_sql import FOUND_SOON, IS_RIGHT, TELLS
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.shared_rows import neck_map_columns
from game.text.clean_text import cleaned

Row = tuple[Any, ...]

_TAKES = f"""
SELECT sighting.device || ' ' || sighting.sequence || ' ' || sighting.at_us AS entry_key,
    judged_on.uuid || ' ' || judging.sequence || ' ' || judging.at_us AS judged_key, sums.position,
    sighting.moment_us, sums.day, sums.bars, sums.stage, sums.pulse, sums.tempo_bpm, sums.minutes, sums.reading,
    sighting.nth, sighting.heard, sighting.known, take.self_marked, judgement.outcome, sums.notes, sums.clean,
    sums.in_time, sums.unsure, sums.found, sums.found_s, sums.found_s2,
    sums.stage IN ('time', 'sight') AND sums.tempo_bpm IS NOT NULL AND {CLEAN_TAKE}, neck_map.reading
FROM summaries.take_sums AS sums
CROSS JOIN summaries.sighting USING (position)
CROSS JOIN take ON take.take = sums.take
CROSS JOIN neck_map ON neck_map.neck_map = take.neck_map
CROSS JOIN judgement ON judgement.judgement = sums.judgement
CROSS JOIN entry AS judging ON judging.kind = 'judgement' AND judging.row = sums.judgement
CROSS JOIN device AS judged_on ON judged_on.device = judging.device
ORDER BY sums.position
"""
_BARS = "SELECT bars, passage_key, title, first, last, start, stop FROM bars"
_ITEMS = """
SELECT DISTINCT written, sounding, string, fret FROM asked_note
ORDER BY sounding, written, string, fret
"""


def _coded(column: str, codes: dict[Any, int]) -> str:
    """The number of a word, as SQL."""
    return f"CASE {column} {' '.join(f'''WHEN '{one.value}' THEN {number}''' for one, number in codes.items())} END"


_ITEMS_ASKED = f"""
INSERT INTO temp.class_asked
SELECT note.asked, note.n, item.item, {TELLS}, note.bar FROM asked_note AS note
JOIN temp.class_item AS item ON item.written = note.written AND item.sounding = note.sounding
    AND item.string = COALESCE(note.string, 0) AND item.fret = COALESCE(note.fret, 0)
"""
# Most notes are right: it takes a while to look for what was played for each of them.
_PLAYED = f"""CASE WHEN NOT {IS_RIGHT} THEN (
    SELECT sounding FROM answer WHERE answer.judgement = verdict.judgement AND answer.n = verdict.n AND answer.k = 1
) END"""
_NOTES = f"""
SELECT :student, wanted.take, verdict.n, asked.item, {_coded("verdict.verdict", VERDICTS)},
    CASE WHEN verdict.cause IS NOT NULL THEN {_coded("verdict.cause", CAUSES)} END, {_PLAYED},
    CAST(ROUND(verdict.offset_ms * 1000) AS INTEGER),
    CASE WHEN asked.tells AND sums.stage = 'places' AND {FOUND_SOON}
        THEN CAST(ROUND(verdict.time_to_find_ms * 1000) AS INTEGER) END,
    CASE WHEN NOT {IS_RIGHT} AND verdict.verdict IN ('wrong pitch', 'other place', 'missed') THEN asked.bar END
FROM temp.class_take AS wanted
CROSS JOIN summaries.take_sums AS sums ON sums.position = wanted.position
CROSS JOIN verdict ON verdict.judgement = sums.judgement
CROSS JOIN temp.class_asked AS asked ON asked.asked = sums.asked AND asked.n = verdict.n
ORDER BY wanted.take, verdict.n
"""
_TEMPORARY = (
    "DROP TABLE IF EXISTS temp.class_take",
    "DROP TABLE IF EXISTS temp.class_item",
    "DROP TABLE IF EXISTS temp.class_asked",
    "CREATE TEMP TABLE class_take (take INTEGER PRIMARY KEY, position INTEGER NOT NULL)",
    (
        "CREATE TEMP TABLE class_item (written TEXT, sounding INTEGER, string INTEGER, fret INTEGER, item INTEGER, "
        "PRIMARY KEY (written, sounding, string, fret)) WITHOUT ROWID"
    ),
    (
        "CREATE TEMP TABLE class_asked (asked INTEGER, n INTEGER, item INTEGER, tells INTEGER, bar TEXT, "
        "PRIMARY KEY (asked, n)) WITHOUT ROWID"
    ),
)
_of_day = attrgetter(*(name for name, _ in TABLES["day"]))


class TakeRow(NamedTuple):
    """A take: what tells it and its judgement from all others; its `bars`, beginning with the key of their passage;
    `when` it was (place, moment and day), and `what` stands in its row behind the passage.
    """

    entry_key: int
    judged_key: int
    bars: Row
    when: Row
    what: Row


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassProjection:
    """All but single notes: rows as they stand in the tables of a class, without the student's id and without the
    numbers that are given there.
    """

    takes: tuple[TakeRow, ...]
    passages: tuple[PassageFigures, ...]
    days: tuple[Row, ...]
    slow: tuple[Row, ...]
    maps: tuple[Row, ...]
    held: Row
    marked: tuple[Row, ...]
    assignments: tuple[Row, ...]


def projected(connection: sqlite3.Connection, player: UUID, figures: Figures) -> ClassProjection:
    """What a log comes to, its sums being up to date. Raises `sqlite3.Error`, `ValueError` or the like for rows that
    make no sense.
    """
    bars = {number: rest for number, *rest in connection.execute(_BARS)}
    passages, days = figures.passages(), figures.days()
    held = figures.held()
    return ClassProjection(
        takes=tuple(_takes(connection, bars, figures)),
        passages=passages,
        days=tuple(_day_row(day) for day in days),
        slow=tuple(_slow(figures)),
        maps=tuple((at, *neck_map_columns(one).values()) for at, one in enumerate(figures.maps(), start=1)),
        held=(int(held.left_handed), held.capo),
        marked=tuple(_marked(connection, days[-1].day)) if days else (),
        assignments=tuple(_assignments(connection, player)),
    )


def note_rows(
    connection: sqlite3.Connection, student: bytes, takes: Iterable[tuple[int, int]], items: dict[Row, int]
) -> sqlite3.Cursor:
    """The notes of some takes as rows of their table, in the order of its key: of each take its number there, and its
    place in the order of everything. `items` are the numbers of what was written, with its home.
    """
    _put_wanted(connection, takes, items)
    return connection.execute(_NOTES, _of_notes(student))


def put_notes(
    connection: sqlite3.Connection,
    student: bytes,
    takes: Iterable[tuple[int, int]],
    items: dict[Row, int],
    *,
    within: str,
) -> None:
    """Put the same rows into the table of a class that is attached to the log as `within`."""
    _put_wanted(connection, takes, items)
    connection.execute(f"INSERT INTO {within}.note {_NOTES}", _of_notes(student))


def _put_wanted(connection: sqlite3.Connection, takes: Iterable[tuple[int, int]], items: dict[Row, int]) -> None:
    for statement in _TEMPORARY:
        connection.execute(statement)
    connection.executemany("INSERT INTO temp.class_take VALUES (?, ?)", takes)
    homes = ((written, sounding, string or 0, fret or 0, at) for (written, sounding, string, fret), at in items.items())
    connection.executemany("INSERT INTO temp.class_item VALUES (?, ?, ?, ?, ?)", homes)
    connection.execute(_ITEMS_ASKED)


def _of_notes(student: bytes) -> dict[str, object]:
    return {"student": student, "pause_ms": 1000 * NUMBERS.pause_s}


def items_asked(connection: sqlite3.Connection) -> list[Row]:
    """What was written, by name and sounding pitch, each with its home."""
    return connection.execute(_ITEMS).fetchall()


def _marked(connection: sqlite3.Connection, last: date) -> Iterator[Row]:
    for nth, (one, text) in enumerate(most_marked_lately(connection, last), start=1):
        yield nth, one.day.isoformat(), text


def _takes(connection: sqlite3.Connection, bars: dict[int, list[Any]], figures: Figures) -> Iterator[TakeRow]:
    for entry, judged, place, moment_us, day, of_bars, *rest, reading in connection.execute(_TAKES, SHARES):
        passage_key, *named = bars[of_bars]
        yield TakeRow(
            _key(entry),
            _key(judged),
            (figures.key_now(passage_key), *named),
            (place, moment_us, day),
            (*rest, Reading(reading).octaves_down),
        )


def _key(text: str) -> int:
    """64 bits of SHA-256 (FIPS 180-4): two of a student's entries come to the same once in a hundred million lives."""
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:8], "big", signed=True)


def _day_row(day: DayFigures) -> Row:
    return tuple(value.isoformat() if isinstance(value, date) else value for value in _of_day(day))


def _slow(figures: Figures) -> Iterator[Row]:
    for number, neck_map in enumerate(figures.maps(), start=1):
        for place, slow in enumerate(figures.slow_notes(neck_map), start=1):
            key = slow.key
            home = (key.written, key.sounding, key.place.string, key.place.fret)
            yield (number, place, *home, slow.find_s, slow.cost_s, int(slow.unsure), key.shown.value)


def _assignments(connection: sqlite3.Connection, player: UUID) -> Iterator[Row]:
    """What was opened, each once, when it was opened first. What makes no sense is passed over."""
    opened: dict[str, Row] = {}
    for fact in facts_about(connection, player, About.ASSIGNMENT):
        match fact.content:
            case {"digest": str(digest), "title": str(title), "due": str(due), "text": str(text)}:
                opened.setdefault(digest, (cleaned(digest), fact.moment_us, cleaned(title), cleaned(due), text))
    yield from opened.values()


def passage_row(passage: PassageFigures) -> Row:
    """The row of a passage without its number."""
    return (
        passage.key,
        passage.title,
        passage.first,
        passage.last,
        passage.takes,
        passage.first_day.isoformat(),
        passage.last_day.isoformat(),
        passage.newest_bpm,
        passage.clean_bpm,
        passage.target_bpm,
        None if passage.read_day is None else passage.read_day.isoformat(),
    )


def mark_rows(passage: PassageFigures) -> Sequence[Row]:
    """The marks of a passage without its number: the word, its place among them, and the day."""
    return [(mark, nth, day.isoformat()) for nth, (mark, day) in enumerate(passage.marks, start=1)]
