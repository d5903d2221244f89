"""Which takes have the most pencil marks, and all that such a page is drawn of, as text: for a report, and for a class
that is gathered without the notes that were played.
"""

import base64
import json
import sqlite3
import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Cause, EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.neck.neck_map import NeckMap
from game.practice_log.rows.asked_notes import asked_from, asked_rows
from game.practice_log.rows.log_records import Asked, Bars, Terms
from game.practice_log.rows.row_values import columns_of, record_from
from game.practice_log.rows.shared_rows import neck_map_columns
from game.practice_log.rows.take_rows import neck_map_from, takes_where

_STAGES = ", ".join(f"'{stage.value}'" for stage in Stage if stage.pitch_counts and not stage.named)
_WRONG = "('wrong pitch', 'other place', 'missed')"
_MARKED = f"""
SELECT sums.position, sums.take, sums.judgement, sums.day, bars.passage_key,
    COUNT(CASE WHEN verdict.verdict IN {_WRONG} THEN 1 END) + CASE
        WHEN sums.stage = 'places' AND sums.pulse = 'free' THEN COUNT(CASE
            WHEN verdict.verdict NOT IN {_WRONG} AND verdict.time_to_find_ms > :slow_ms
                AND verdict.time_to_find_ms <= :pause_ms AND note.sounding <> (
                    SELECT sounding FROM asked_note AS before WHERE before.asked = note.asked AND before.n = note.n - 1
                ) THEN 1
        END) ELSE 0
    END AS marked
FROM summaries.take_sums AS sums
JOIN bars ON bars.bars = sums.bars
JOIN verdict ON verdict.judgement = sums.judgement
JOIN asked_note AS note ON note.asked = sums.asked AND note.n = verdict.n
WHERE sums.day BETWEEN :first AND :last AND sums.stage IN ({_STAGES})
GROUP BY sums.position HAVING marked > 0
ORDER BY marked DESC, sums.position DESC
"""
_NUMBER = """
SELECT COUNT(*) FROM summaries.sighting AS other
JOIN summaries.sighting AS this ON this.day = other.day AND this.position >= other.position
WHERE this.take = ?
"""
_VERDICTS = """
SELECT verdict.n, verdict.verdict, verdict.cause, verdict.octave_off, verdict.offset_ms, verdict.time_to_find_ms,
    answer.sounding
FROM verdict LEFT JOIN answer ON answer.judgement = verdict.judgement AND answer.n = verdict.n AND answer.k = 1
WHERE verdict.judgement = ? ORDER BY verdict.n
"""
_EVENTS = "SELECT kind, n, time_ms FROM event WHERE judgement = ? ORDER BY k"

WEEK_DAYS, MOST_KEPT = 7, 3
_MOST_BYTES = 2_000_000
"""Of a take as text, unpacked: the longest tune asks a thousand notes."""


@dataclass(frozen=True, slots=True)
class CountedMarks:
    """A take in a log, by its number there and its place in the order of everything, and how many pencil marks it has:
    notes wrong, and notes found slowly at the player's own pace.
    """

    position: int
    take: int
    judgement: int
    day: date
    passage_key: str
    marked: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkedTake:
    """A take with all that its page is drawn of. Of the judgement's answers only the first is known, by its pitch; it
    lies at home wherever nothing was said against it.
    """

    day: date
    number: int
    bars: Bars
    terms: Terms
    asked: Asked
    neck_map: NeckMap
    judgement: Judgement
    free_on: NeckMap | None = None


def counted_marks(connection: sqlite3.Connection, first: date, last: date) -> tuple[CountedMarks, ...]:
    """The takes from one day to another, both in, that have any marks, the one with the most first, and of equals the
    newest. The sums of the log are up to date.
    """
    values = {
        "first": first.isoformat(),
        "last": last.isoformat(),
        "slow_ms": 1000 * NUMBERS.slow_find_s,
        "pause_ms": 1000 * NUMBERS.pause_s,
    }
    return tuple(
        CountedMarks(position, take, judgement, date.fromisoformat(day), key, marked)
        for position, take, judgement, day, key, marked in connection.execute(_MARKED, values)
    )


def number_of_take(connection: sqlite3.Connection, take: int) -> int:
    """Its number on its day, from 1; takes that were never judged count, so that a number stays what it is."""
    return int(connection.execute(_NUMBER, (take,)).fetchone()[0])


def most_marked_lately(connection: sqlite3.Connection, last: date) -> Iterator[tuple[CountedMarks, str]]:
    """The take with the most marks in the week that ends with a day, then the one with the most after that one's day,
    and so on, each as text for `marked_take_from`: so whichever later day a week ends with, its take is among them,
    but for one that ends more than so many steps later.
    """
    after = last - timedelta(days=WEEK_DAYS)
    kept = 0
    for one in counted_marks(connection, after + timedelta(days=1), last):
        if one.day > after and kept < MOST_KEPT:
            after, kept = one.day, kept + 1
            yield one, marked_take_text(connection, one)


def marked_take_text(connection: sqlite3.Connection, one: CountedMarks) -> str:
    """A take as text."""
    (logged,) = takes_where(connection, "take.take = ?", (one.take,))
    begun = logged.begun
    spans, notes = asked_rows(begun.asked)
    told = {
        "day": one.day.isoformat(),
        "number": number_of_take(connection, one.take),
        "bars": columns_of(begun.bars),
        "terms": columns_of(begun.terms),
        "spans": spans,
        "notes": notes,
        "neck_map": neck_map_columns(begun.neck_map),
        "free": begun.free_on is not None,
        "verdicts": connection.execute(_VERDICTS, (one.judgement,)).fetchall(),
        "events": connection.execute(_EVENTS, (one.judgement,)).fetchall(),
    }
    return base64.b64encode(zlib.compress(json.dumps(told, separators=(",", ":")).encode(), 9)).decode("ascii")


def marked_take_from(text: str) -> MarkedTake:
    """The opposite. Raises `ValueError`, `TypeError` or `LookupError` for what is no such text."""
    try:
        raw = zlib.decompressobj().decompress(base64.b64decode(text), _MOST_BYTES)
    except zlib.error as error:
        raise ValueError(str(error)) from error
    told = json.loads(raw)
    neck_map = neck_map_from(told["neck_map"])
    asked = asked_from(told["spans"], told["notes"], neck_map.reading.clef)
    return MarkedTake(
        day=date.fromisoformat(told["day"]),
        number=told["number"],
        bars=record_from(Bars, told["bars"]),
        terms=record_from(Terms, told["terms"]),
        asked=asked,
        neck_map=neck_map,
        judgement=_judgement(told["verdicts"], told["events"], asked.notes),
        free_on=neck_map if told["free"] else None,
    )


def _judgement(
    verdicts: Iterable[Sequence[Any]], events: Iterable[Sequence[Any]], notes: Sequence[ExpectedNote]
) -> Judgement:
    asked = {one.n: one for one in notes}
    return Judgement(
        verdicts=tuple(_verdict(row, asked[row[0]]) for row in verdicts),
        extra=(),
        events=tuple(TakeEvent(kind=EventKind(kind), n=n, time_ms=time_ms) for kind, n, time_ms in events),
    )


def _verdict(row: Sequence[Any], asked: ExpectedNote) -> NoteVerdict:
    n, word, cause, octave_off, offset_ms, time_to_find_ms, sounding = row
    verdict = Verdict(word)
    place = None if asked.home is None or verdict is Verdict.OTHER_PLACE else asked.home.place
    answers = () if sounding is None else (PlayedNote(started_s=0.0, sounding=sounding, place=place),)
    return NoteVerdict(
        n=n,
        verdict=verdict,
        answers=answers,
        octave_off=bool(octave_off),
        cause=None if cause is None else Cause(cause),
        offset_ms=offset_ms,
        time_to_find_ms=time_to_find_ms,
    )
