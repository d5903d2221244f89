"""What a practice log comes to, in figures, by plain SQL over what was played. Nothing here is stored.

Open a log, `with figures_of(connection, player) as figures`, and ask. Days are the player's own, as text
"2026-03-14" in the database and `date` here. Reading is what `game.coach.sightings` counts as such: the first two
sightings of bars neither heard before nor known by ear; rhythm alone and naming are left out. Shares are clean,
early and late over all notes that have a home, were read and heard surely.
"""

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from game.coach.notes.fluent_map import is_same_to_read
from game.coach.notes.items import Items
from game.coach.notes.map_identity import map_key
from game.coach.notes.note_reads import items_after
from game.coach.notes.slow_notes import SlowHome, slow_notes
from game.coach.numbers import NUMBERS
from game.errors import LogError
from game.music.score import Reading
from game.neck.neck_map import NeckMap
from game.practice_log.queries import figures_sql as sql
from game.practice_log.queries.coach_events import renamed_passages
from game.practice_log.queries.figure_records import (
    DayFigures,
    NoteFigures,
    PassageFigures,
    SightReading,
    SignedPace,
    WentWrong,
)
from game.practice_log.queries.how_held import HowHeld, how_held
from game.practice_log.queries.mark_sums import READ
from game.practice_log.queries.read_queries import takes_read
from game.practice_log.queries.summaries import summarised
from game.practice_log.rows.row_values import json_array
from game.practice_log.rows.take_rows import neck_maps, takes_where

MOST_WRONG = 60
_MAPS_BY_NEWEST = """
SELECT take.neck_map, MAX(sums.position) AS newest FROM summaries.take_sums AS sums CROSS JOIN take USING (take)
GROUP BY take.neck_map ORDER BY newest DESC
"""
SHARES = {"clean_share": NUMBERS.target_share, "heard_share": NUMBERS.heard_share}
"""The values of `figures_sql.CLEAN_TAKE`."""


class Figures:
    """The figures of one player's log; made by `figures_of`."""

    def __init__(self, connection: sqlite3.Connection, player: UUID) -> None:
        self._connection, self._player = connection, player
        self._key_now = renamed_passages(connection, player)
        self._renamed = json.dumps(self._key_now)
        self._items: Items | None = None

    def key_now(self, passage_key: str) -> str:
        """The key of a passage as it is now, where its file was read anew."""
        return self._key_now.get(passage_key, passage_key)

    def _asked(self, statement: str, values: dict[str, Any]) -> sqlite3.Cursor:
        """The answer to a statement about passages, by their keys as they are now."""
        # To look each of them up takes a while, and mostly no file was read anew.
        shape = sql.READ_ANEW if self._renamed != "{}" else "{key}"
        key_now = {key: shape.format(key=key) for key in sql.KEYS}
        statement = statement.format(key_now=key_now, clean_take=sql.CLEAN_TAKE)
        return self._connection.execute(statement, {**values, "renamed": self._renamed})

    def days(self) -> tuple[DayFigures, ...]:
        """Every day of practice, oldest first."""
        rows = self._connection.execute(sql.DAYS)
        return tuple(DayFigures(**{**day, "day": date.fromisoformat(day["day"])}) for day in _by_name(rows))

    def notes(self, until: date, days: int) -> tuple[NoteFigures, ...]:
        """The notes read in the days up to `until`, that day in, by pitch."""
        stretch = {**days_between(until, days), "pause_ms": 1000 * NUMBERS.pause_s}
        return note_figures(*(self._connection.execute(one, stretch) for one in (sql.NOTES, sql.CAUSES, sql.MEDIANS)))

    def first_sights(self, most: int) -> tuple[SightReading, ...]:
        """The takes in which bars were met for the first time, at most so many of the newest, the oldest first."""
        rows = self._connection.execute(sql.FIRST_SIGHTS, {"most": most, **SHARES}).fetchall()
        return tuple(
            SightReading(day=date.fromisoformat(day), title=title, stage=stage, notes=notes, clean=clean)
            for day, title, stage, notes, clean in reversed(rows)
        )

    def signed(self) -> tuple[SignedPace, ...]:
        """How quickly each passage went that was signed off, as it was signed, in that order."""
        fastest: dict[tuple[str, str, str], SignedPace] = {}
        for day, title, first, last, bpm, notes_per_beat in self._connection.execute(sql.SIGNED, SHARES):
            pace = SignedPace(
                day=date.fromisoformat(day), title=title, first=first, last=last, bpm=bpm, notes_per_beat=notes_per_beat
            )
            known = fastest.get((title, first, last))
            if known is None or known.bpm < bpm:
                fastest[title, first, last] = pace
        return tuple(fastest.values())

    def passages(self) -> tuple[PassageFigures, ...]:
        """Every passage, the one played last first. Passages with the same notes are one, under the newest title."""
        return self._passages(None)

    def newest_marked(self, most: int) -> tuple[PassageFigures, ...]:
        """The passages that earned a mark by practice last, at most so many, the newest mark first."""
        values = {"most": most, "read": READ}
        rows = self._asked(sql.NEWEST_MARKED, values)
        keys = [key for (key,) in rows]
        found = {passage.key: passage for passage in self._passages(json_array(keys))}
        return tuple(found[key] for key in keys if key in found)

    def _passages(self, keys: str | None) -> tuple[PassageFigures, ...]:
        marks: defaultdict[str, list[tuple[str, date]]] = defaultdict(list)
        who = {"keys": keys}
        for passage, mark, day, _ in self._asked(sql.MARKS, who):
            marks[passage].append((mark, date.fromisoformat(day)))
        read_days = {key: day for key, earned in marks.items() for mark, day in earned if mark == READ}
        rows = self._asked(sql.PASSAGES, {**who, **SHARES})
        return tuple(
            passage_figures(
                (*row[:7], *row[8:]), [one for one in marks[row[0]] if one[0] != READ], read_days.get(row[0])
            )
            for row in rows
        )

    def went_wrong(self, until: date, days: int, most: int = MOST_WRONG) -> tuple[WentWrong, ...]:
        """The notes that went wrong in the days up to `until`, the most frequent first, at most so many."""
        rows = self._asked(sql.WRONG, {**days_between(until, days), "most": most})
        return tuple(
            WentWrong(
                day=date.fromisoformat(day),
                title=title,
                bar=bar,
                written=written,
                string=string,
                fret=fret,
                verdict=verdict,
                played=played,
                cause=cause,
                octaves_down=Reading(reading).octaves_down,
                times=times,
            )
            for day, title, bar, written, string, fret, verdict, played, cause, reading, times in rows
        )

    def slow_notes(self, neck_map: NeckMap) -> tuple[SlowHome, ...]:
        """The slow notes of a map, as the coach knows them."""
        if self._items is None:
            self._items = self.items()
        return slow_notes(self._items, neck_map)

    def held(self) -> HowHeld:
        """How the instrument is held now."""
        return how_held(self._connection, self._player)

    def items(self) -> Items:
        """What is known of each written note, as the coach knows it."""
        items: Items = {}
        day = 0
        for take in takes_read(self._connection, self._player):
            day = max(day, take.day)
            items = items_after(items, take._replace(day=day))
        return items

    def maps(self) -> tuple[NeckMap, ...]:
        """The maps that takes were read on, the one of the newest take first; one of each that is the same to read."""
        rows = self._connection.execute(_MAPS_BY_NEWEST)
        every, found = neck_maps(self._connection), dict[str, NeckMap]()
        for number, _ in rows:
            text = map_key(every[number])
            if not any(is_same_to_read(text, other) for other in found):
                found[text] = every[number]
        return tuple(found.values())

    def newest_map(self) -> NeckMap | None:
        """The map of the newest take; None in a log without takes."""
        newest = "take.take = (SELECT take FROM summaries.take_sums ORDER BY position DESC LIMIT 1)"
        return next((take.begun.neck_map for take in takes_where(self._connection, newest, ())), None)


@contextmanager
def figures_of(connection: sqlite3.Connection, player: UUID) -> Iterator[Figures]:
    """Bring the sums of the log up to date, and answer questions about it until the end of the `with`.

    Takes without a judgement are left out. Nothing is written into the log. Raises `LogError` for a log whose rows make
    no sense.
    """
    try:
        with summarised(connection, player):
            yield Figures(connection, player)
    except sqlite3.Error as error:
        raise LogError("log.no_sense", fault=error) from error


def _by_name(rows: sqlite3.Cursor) -> Iterator[dict[str, Any]]:
    """Rows as values by the names of their columns."""
    names = [column[0] for column in rows.description]
    return (dict(zip(names, row, strict=True)) for row in rows)


def note_figures(
    notes: Iterable[tuple[Any, ...]], causes: Iterable[tuple[Any, ...]], medians: Iterable[tuple[Any, ...]]
) -> tuple[NoteFigures, ...]:
    """Notes out of the rows of `figures_sql.NOTES_OF`, `CAUSES_OF` and `MEDIANS_OF`."""
    whys: defaultdict[tuple[str, int, int], list[tuple[str, int]]] = defaultdict(list)
    for written, string, fret, cause, times in causes:
        whys[written, string, fret].append((cause, times))
    found = {(written, string, fret): (timed, float(find_s)) for written, string, fret, timed, find_s in medians}
    return tuple(
        NoteFigures(
            written=written,
            string=string,
            fret=fret,
            read=read,
            clean=int(clean),
            timed=found.get((written, string, fret), (0, None))[0],
            find_s=found.get((written, string, fret), (0, None))[1],
            causes=tuple(whys[written, string, fret]),
        )
        for written, string, fret, read, clean, _ in notes
    )


def passage_figures(row: Sequence[Any], marks: Iterable[tuple[str, date]], read_day: date | None) -> PassageFigures:
    """A passage out of a row: its key, title, first and last bar, its takes, their first and last day as text, and the
    newest, the fastest clean and the target tempo.
    """
    key, title, first, last, takes, first_day, last_day, newest_bpm, clean_bpm, target_bpm = row
    return PassageFigures(
        key=key,
        title=title,
        first=first,
        last=last,
        takes=takes,
        first_day=date.fromisoformat(first_day),
        last_day=date.fromisoformat(last_day),
        newest_bpm=newest_bpm,
        clean_bpm=clean_bpm,
        target_bpm=target_bpm,
        marks=tuple(marks),
        read_day=read_day,
    )


def days_between(until: date, days: int) -> dict[str, Any]:
    """The bounds of some days, the first out, the last in, as text."""
    return {"after": (until - timedelta(days=days)).isoformat(), "until": until.isoformat()}
