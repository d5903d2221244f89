"""What was truly read, out of the log: years of it in one go."""

import sqlite3
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import groupby
from operator import itemgetter
from typing import Any
from uuid import UUID

from game.coach.notes.items import ItemKey, map_name
from game.coach.notes.map_days import PacedNote, is_at_pace
from game.coach.notes.map_identity import map_key
from game.coach.notes.note_reads import EVIDENCE, NoteRead, TakeReads, note_read
from game.coach.numbers import NUMBERS
from game.coach.sightings import READING_STAGES
from game.coach.stages import Stage
from game.instrument.sources.note_sources import TELL_PLACES, PlayedOn
from game.judging.verdicts import COUNTS_AS_CLEAN, Cause, Verdict
from game.music.accidentals import AlteredBy
from game.music.drill_title import is_drill_title
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place
from game.practice_log.queries.entry_order import (
    AFTER_ALL,
    BEFORE_ALL,
    BETWEEN,
    DAY_NUMBER,
    MINUTE_OF_DAY,
    ORDER,
    Position,
    bounds,
)
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.rows.row_values import fraction
from game.practice_log.rows.take_rows import neck_maps

_VERDICTS = {verdict.value: verdict for verdict in Verdict}
_CAUSES = {cause.value: cause for cause in Cause}
_HINTED = Verdict.HINTED.value
_COMES_OUT = EVIDENCE | {Verdict.HINTED}

_IN_ORDER = f"""
INSERT INTO temp.read_in_order (take, day, minute)
SELECT entry.row, {DAY_NUMBER}, {MINUTE_OF_DAY} FROM entry CROSS JOIN device USING (device)
WHERE entry.kind = 'take' AND {BETWEEN} ORDER BY {ORDER}
"""


def _words(members: Iterable[Stage | Verdict]) -> str:
    """Words of our own for a statement: never from outside."""
    return ", ".join(sorted(f"'{member.value}'" for member in members))


_IN_TIME = f"take.stage IN ({_words(stage for stage in READING_STAGES if stage.rhythm_counts)}) AND sighting.nth = 1"
"""Only of such takes it is asked whether they were at the pace of a fluent map."""

_READ = f"""
FROM temp.read_in_order
CROSS JOIN take USING (take)
CROSS JOIN bars USING (bars)
CROSS JOIN instrument USING (instrument)
CROSS JOIN summaries.sighting ON sighting.take = take.take
{{notes}}
WHERE take.stage IN ({_words(READING_STAGES)}) AND sighting.nth <= :sightings AND NOT sighting.heard
    AND NOT sighting.known
"""
_TAKES = f"""
SELECT read_in_order.position, read_in_order.day, read_in_order.minute, take.self_marked, take.stage = 'places',
    bars.title, take.neck_map, instrument.kind, {_IN_TIME}
{_READ.format(notes="")}
ORDER BY read_in_order.position
"""
# What is the same in all notes of a take stands above: to hand it over with each of them takes as long as all else.
_OF_NOTES = """
CROSS JOIN verdict ON verdict.judgement = sighting.judgement
CROSS JOIN asked_note AS note ON note.asked = take.asked AND note.n = verdict.n
LEFT JOIN asked_note AS before ON before.asked = take.asked AND before.n = verdict.n - 1
"""
_NOTES = f"""
SELECT read_in_order.position, note.written, note.sounding, note.string, note.fret,
    CASE WHEN note.sign IS NULL THEN note.altered_by ELSE 'accidental' END, verdict.verdict, verdict.cause,
    verdict.time_to_find_ms, before.sounding <> note.sounding,
    CASE WHEN {_IN_TIME} THEN note.onset END, CASE WHEN {_IN_TIME} THEN before.onset END
{_READ.format(notes=_OF_NOTES)} AND note.string IS NOT NULL AND verdict.verdict IN ({_words(_COMES_OUT)})
ORDER BY read_in_order.position, verdict.n
"""
_ITEM = slice(1, 6)
"""Where in a row of `_NOTES` stands what tells the item."""


def takes_read(
    connection: sqlite3.Connection,
    player: UUID,
    *,
    after: Position = BEFORE_ALL,
    upto: Position = AFTER_ALL,
    at_once: int | None = None,
) -> Iterator[TakeReads]:
    """The takes that were a reading, of those that began after a position and up to another, in the order of
    everything, as they were judged last. Those without any evidence or help are left out. `at_once` as in
    `sums_attached`.
    """
    with sightings_up_to_date(connection, player, at_once=at_once):
        connection.execute("DROP TABLE IF EXISTS temp.read_in_order")
        connection.execute(
            "CREATE TEMP TABLE read_in_order (position INTEGER PRIMARY KEY, take INTEGER, day INTEGER, minute INTEGER)"
        )
        connection.execute(_IN_ORDER, bounds(player, after, upto))
        yield from _takes_in_order(connection)


def _takes_in_order(connection: sqlite3.Connection) -> Iterator[TakeReads]:
    maps = {number: _ItemsOnMap(one) for number, one in neck_maps(connection).items()}
    asked = {"sightings": NUMBERS.sightings_read}
    takes = connection.execute(_TAKES, asked)
    for position, notes in groupby(connection.execute(_NOTES, asked), key=itemgetter(0)):
        # Both are in the same order, and not every take has notes that tell something.
        _, day, minute, self_marked, alone, title, neck_map, kind, in_time = next(
            take for take in takes if take[0] == position
        )
        on_map, rows = maps[neck_map], list(notes)
        yield TakeReads(
            day=day,
            self_marked=bool(self_marked),
            reads=tuple(_note_reads(rows, on_map, alone=bool(alone))),
            shown=tuple(on_map[row[_ITEM]] for row in rows if row[6] == _HINTED),
            drill=is_drill_title(title),
            minute=minute,
            on_map=on_map.key,
            at_pace=bool(in_time) and is_at_pace(map(_paced_note, rows)),
            placed=PlayedOn(kind) in TELL_PLACES,
        )


class _ItemsOnMap(dict[tuple[Any, ...], ItemKey]):
    """The items of a map by what tells them in a row: the same few come again and again, and each is put together once.
    `key` is the text of the map.
    """

    def __init__(self, neck_map: NeckMap) -> None:
        super().__init__()
        self._name, self.key = map_name(neck_map), map_key(neck_map)

    def __missing__(self, item: tuple[Any, ...]) -> ItemKey:
        written, sounding, string, fret, shown = item
        self[item] = ItemKey(
            written=written,
            shown=AlteredBy(shown),
            map_name=self._name,
            place=Place(string, fret),
            sounding=sounding,
        )
        return self[item]


def _note_reads(rows: Iterable[tuple[Any, ...]], on_map: _ItemsOnMap, *, alone: bool) -> Iterator[NoteRead]:
    """The readings among the notes of a take. The first note and one that repeats the note before have no time that
    tells anything.
    """
    for row in rows:
        _, _, _, _, _, _, word, cause, since_ms, moved, _, _ = row
        if word != _HINTED:
            told = None if cause is None else _CAUSES[cause]
            yield note_read(on_map[row[_ITEM]], _VERDICTS[word], told, since_ms if moved else None, alone=alone)


def _paced_note(row: tuple[Any, ...]) -> PacedNote:
    *_, word, _, since_ms, _, onset, onset_before = row
    gap = None if onset_before is None else _quarters(onset) - _quarters(onset_before)
    return PacedNote(gap, since_ms, _VERDICTS[word] in COUNTS_AS_CLEAN)


@lru_cache(maxsize=4096)
def _quarters(onset: str) -> float:
    return float(fraction(onset))
