"""Which stretches of bars were ever asked or heard: their numbers in the sums beside the log, and what they hold."""

import json
import sqlite3
from functools import lru_cache

from game.judging.tolerance import BarSpan
from game.music.meter import Meter
from game.practice_log.queries import take_sightings_sql as sql
from game.practice_log.rows.bar_contents import EMPTY, AskedHead, Stretch, bar_keys
from game.practice_log.rows.row_values import fraction, from_json_array, json_array

MOST_BARS = 10_000
"""No tune is longer: what says so is damaged."""


class StretchTables:
    """The tables `stretch`, `stretch_bar` and `asked_stretch` of the sums."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._known: dict[int, Stretch] = {}

    def number_of_asked(self, asked: int, start: int, stop: int) -> int:
        """The number of the stretch that a take asked: the notes `asked`, in the bars from `start` to `stop`."""
        row = self._connection.execute(
            "SELECT stretch FROM summaries.asked_stretch WHERE asked = ? AND start = ? AND stop = ?",
            (asked, start, stop),
        ).fetchone()
        if row is not None:
            return int(row[0])
        number = self.number_of(Stretch(start, self._bars_of(asked, min(max(0, stop - start), MOST_BARS))))
        self._connection.execute(
            "INSERT INTO summaries.asked_stretch VALUES (?, ?, ?, ?)", (asked, start, stop, number)
        )
        return number

    def number_of(self, stretch: Stretch) -> int:
        """The number of a stretch, which is written down where it is new."""
        bars = json_array(stretch.bars)
        row = self._connection.execute(
            "SELECT stretch FROM summaries.stretch WHERE bars = ? AND start = ?", (bars, stretch.start)
        ).fetchone()
        if row is not None:
            return int(row[0])
        number = self._connection.execute(
            "INSERT INTO summaries.stretch (start, bars) VALUES (?, ?)", (stretch.start, bars)
        ).lastrowid
        assert number is not None
        self._connection.executemany(
            "INSERT INTO summaries.stretch_bar VALUES (?, ?, ?)",
            [(bar, key, number) for bar, key in enumerate(stretch.bars, start=stretch.start) if key != EMPTY],
        )
        self._known[number] = stretch
        return number

    def stretch(self, number: int) -> Stretch:
        """The stretch of a number."""
        if number not in self._known:
            start, bars = self._connection.execute(
                "SELECT start, bars FROM summaries.stretch WHERE stretch = ?", (number,)
            ).fetchone()
            self._known[number] = Stretch(start, tuple(json.loads(bars)))
        return self._known[number]

    def like(self, stretch: Stretch) -> list[int]:
        """The numbers of those that may share bars with a stretch, itself included: one of its bars at its place, or
        all of them elsewhere.
        """
        values = {"start": stretch.start, "bars": json_array(stretch.bars)}
        return [number for (number,) in self._connection.execute(sql.LIKE, values)]

    def _bars_of(self, asked: int, count: int) -> tuple[str, ...]:
        (told,) = self._connection.execute("SELECT spans FROM asked WHERE asked = ?", (asked,)).fetchone()
        heads = (AskedHead(*row) for row in self._connection.execute(sql.ASKED_HEADS, (asked,)))
        return bar_keys(heads, [_span(*one) for one in from_json_array(told)], count)


@lru_cache(maxsize=1024, typed=True)
def _span(start: str, beats: int, unit: int) -> BarSpan:
    """A bar that is asked: the same few come again and again."""
    return BarSpan(start=fraction(start), meter=Meter(beats, unit))
