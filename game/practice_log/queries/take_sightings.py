"""How often the bars of each take had been met before, whether they had been heard, and whether the tune was known by
ear: folded from all that came before it in the order of everything, and never from what a take said of itself.

It is kept as a part of the sums beside the log (`sums_file`).
"""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from operator import itemgetter
from typing import Any, NamedTuple
from uuid import UUID

from game.music.passage import Passage
from game.practice_log.queries import take_sightings_sql as sql
from game.practice_log.queries.bars_so_far import BarsSoFar
from game.practice_log.queries.entry_order import AFTER_ALL, BEFORE_ALL, Position, bounds
from game.practice_log.queries.facts import fact_content
from game.practice_log.queries.stretch_tables import MOST_BARS
from game.practice_log.queries.sums_file import Part, sums_attached
from game.practice_log.rows.bar_contents import Stretch, stretch_of
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.log_records import Sighting
from game.practice_log.rows.row_values import json_array

AT_ONCE = 3000
"""So many takes are gone through while the player waits: less than a second."""

_FACTS = (About.HEARD, About.KNOWN_BY_EAR, About.RENAMED_PASSAGE)
_INSERT = f"INSERT INTO summaries.sighting VALUES ({', '.join('?' * 13)})"


@contextmanager
def sightings_up_to_date(connection: sqlite3.Connection, player: UUID, *, at_once: int | None = None) -> Iterator[None]:
    """The sightings of a player's takes as table `summaries.sighting`, until the end of the `with`; `at_once` as in
    `sums_attached`.
    """
    with sums_attached(connection, player, (SIGHTINGS,), at_once=at_once):
        yield


def sighting_now(connection: sqlite3.Connection, player: UUID, passage: Passage) -> Sighting:
    """How a take of these bars that begins now finds them, after all that is in the log; where years of it were never
    gone through, after its newest part. Whether the tune is known by ear is left open.
    """
    with sightings_up_to_date(connection, player, at_once=AT_ONCE):
        bars, stretch = BarsSoFar(connection), stretch_of(passage)
        return Sighting(nth=1 + bars.times_met(stretch), heard=bars.were_heard(stretch))


class _Take(NamedTuple):
    """A row of `take_sightings_sql.TAKES`, without its position."""

    day: str
    take: int
    judgement: int | None
    asked: int
    start: int
    stop: int
    heard: int
    known_by_ear: int | None
    tune: str | None
    last_bar: int | None


class _Told(NamedTuple):
    """A fact."""

    about: About
    content: dict[str, Any]


def _forget(connection: sqlite3.Connection, after: Position) -> None:
    values = bounds(UUID(int=0), after, AFTER_ALL)
    for statement in sql.FORGET:
        connection.execute(statement, values)


def _add(connection: sqlite3.Connection, player: UUID, after: Position, upto: Position) -> None:
    """Go through takes and facts in the order of everything."""
    fold = _Fold(connection, _known_tunes(connection, player, after))
    takes = connection.execute(sql.TAKES, bounds(player, after, upto))
    taken = ((Position(*row[:4]), _Take(*row[4:])) for row in takes)
    told = _facts(connection, player, after, upto, _FACTS)
    everything: list[tuple[Position, _Take | _Told]] = [*taken, *told]
    connection.executemany(_INSERT, fold.rows(sorted(everything, key=itemgetter(0))))


class _Fold:
    """The log, gone through take by take and fact by fact."""

    def __init__(self, connection: sqlite3.Connection, known: dict[str, bool]) -> None:
        self._known, self._bars = known, BarsSoFar(connection)
        (self._number,) = connection.execute("SELECT COALESCE(MAX(position), 0) FROM summaries.sighting").fetchone()

    def rows(self, everything: Iterable[tuple[Position, "_Take | _Told"]]) -> Iterator[tuple[Any, ...]]:
        """The rows of the takes among what happened, in order: each is to be put in before the next is asked for."""
        for position, what in everything:
            if isinstance(what, _Take):
                yield self._take(position, what)
            else:
                self._hear(position, what)

    def _take(self, position: Position, take: _Take) -> tuple[Any, ...]:
        """A take begins; what was read in it is told by the judgement that stands."""
        bars, number = self._bars, self._bars.number_of_asked(take.asked, take.start, take.stop)
        stretch = bars.tables.stretch(number)
        reached = len(stretch.bars) if take.last_bar is None else take.last_bar + 1
        heard = bool(take.heard) or bars.were_heard(stretch)
        known = self._known.get(take.tune or "", bool(take.known_by_ear))
        nth = 1 + bars.times_met(stretch)
        self._number += 1
        bars.play(number, reached)
        if take.heard:
            bars.hear(number, position)
        return (self._number, take.take, *position, take.day, take.judgement, number, reached, nth, heard, known)

    def _hear(self, position: Position, told: "_Told") -> None:
        """A fact; one that makes no sense is passed over."""
        bars, content = self._bars, told.content
        if told.about is About.KNOWN_BY_EAR:
            self._known |= _said_of_tune(content)
        elif told.about is About.HEARD:
            if (heard := _stretch(content)) is not None:
                bars.hear(bars.number_of(heard), position)
        else:
            old, new = _stretch(content.get("was")), _stretch(content.get("is"))
            if old is not None and new is not None:
                bars.rename(bars.number_of(old), bars.number_of(new), position)


def _known_tunes(connection: sqlite3.Connection, player: UUID, upto: Position) -> dict[str, bool]:
    """What was said last of each tune."""
    known: dict[str, bool] = {}
    for _, told in _facts(connection, player, BEFORE_ALL, upto, (About.KNOWN_BY_EAR,)):
        known |= _said_of_tune(told.content)
    return known


def _facts(
    connection: sqlite3.Connection, player: UUID, after: Position, upto: Position, about: Sequence[About]
) -> Iterator[tuple[Position, _Told]]:
    values = {"about": json_array(one.value for one in about), **bounds(player, after, upto)}
    for *position, one, raw in connection.execute(sql.FACTS, values):
        content = fact_content(raw)
        if content is not None:
            yield Position(*position), _Told(About(one), content)


def _said_of_tune(content: dict[str, Any]) -> dict[str, bool]:
    tune, known = content.get("tune"), content.get("known")
    return {tune: known} if isinstance(tune, str) and isinstance(known, bool) else {}


def _stretch(content: Any) -> Stretch | None:
    """The bars that a fact tells of, None for what are none."""
    match content:
        case {"start": int(start), "bars": [*bars]} if 0 <= start < MOST_BARS and len(bars) <= MOST_BARS:
            return Stretch(start, tuple(bars)) if all(isinstance(bar, str) for bar in bars) else None
    return None


SIGHTINGS = Part(name="sightings", rules=sql.TAKES + sql.FACTS, empty=sql.EMPTY, forget=_forget, add=_add)
"""How the sightings are made of the log."""
