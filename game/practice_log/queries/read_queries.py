"""What was truly read, out of the log: years of it in one go."""

import sqlite3
from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby
from operator import itemgetter
from typing import Any, NamedTuple
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
_UNTIMED = "before.sounding IS NULL OR before.sounding = note.sounding"
"""Where the time since the answer before tells nothing: the first note, and one that repeats the note before."""

_ITEM, _WORD, _CAUSE, _SINCE = slice(6, 12), 12, 13, 14
"""Where in a row of `_READINGS` stand the item, the verdict, its cause, and the time since the answer before."""

_HINTED = Verdict.HINTED.value
_COMES_OUT = EVIDENCE | {Verdict.HINTED}

_IN_ORDER = f"""
INSERT INTO temp.read_in_order (take, day, minute)
SELECT entry.row, {DAY_NUMBER}, {MINUTE_OF_DAY} FROM entry CROSS JOIN device USING (device)
WHERE entry.kind = 'take' AND {BETWEEN} ORDER BY {ORDER}
"""
_READINGS = """
SELECT read_in_order.position, read_in_order.day, read_in_order.minute, take.self_marked, take.stage = 'places',
    bars.title, take.neck_map, note.written,
    note.sounding, note.string, note.fret, CASE WHEN note.sign IS NULL THEN note.altered_by ELSE 'accidental' END,
    verdict.verdict, verdict.cause, CASE WHEN {untimed} THEN NULL ELSE verdict.time_to_find_ms END,
    instrument.kind, CASE WHEN take.stage IN ({in_time}) AND sighting.nth = 1 THEN note.onset END, before.onset,
    verdict.time_to_find_ms
FROM temp.read_in_order
CROSS JOIN take USING (take)
CROSS JOIN bars USING (bars)
CROSS JOIN instrument USING (instrument)
CROSS JOIN summaries.sighting ON sighting.take = take.take
CROSS JOIN verdict ON verdict.judgement = sighting.judgement
CROSS JOIN asked_note AS note ON note.asked = take.asked AND note.n = verdict.n
LEFT JOIN asked_note AS before ON before.asked = take.asked AND before.n = verdict.n - 1
WHERE take.stage IN ({stages}) AND sighting.nth <= :sightings AND NOT sighting.heard
    AND NOT sighting.known AND note.string IS NOT NULL AND verdict.verdict IN ({evidence})
ORDER BY read_in_order.position, verdict.n
"""


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
    maps = {number: _MapTexts(map_name(one), map_key(one)) for number, one in neck_maps(connection).items()}
    keys: dict[tuple[Any, ...], ItemKey] = {}

    def key_of(item: tuple[Any, ...]) -> ItemKey:
        """The same few items come again and again: each is put together once."""
        if item not in keys:
            neck_map, written, sounding, string, fret, shown = item
            keys[item] = ItemKey(
                written=written,
                shown=AlteredBy(shown),
                map_name=maps[neck_map].name,
                place=Place(string, fret),
                sounding=sounding,
            )
        return keys[item]

    rows = connection.execute(
        _READINGS.format(
            untimed=_UNTIMED,
            stages=_words(READING_STAGES),
            evidence=_words(_COMES_OUT),
            in_time=_words(frozenset(stage for stage in READING_STAGES if stage.rhythm_counts)),
        ),
        {"sightings": NUMBERS.sightings_read},
    )
    for _, of_take in groupby(rows, key=itemgetter(0)):
        notes = list(of_take)
        _, day, minute, self_marked, alone, title, neck_map, *_, kind, in_time, _, _ = notes[0]
        reads, shown = list[NoteRead](), list[ItemKey]()
        for row in notes:
            key, word = key_of(row[_ITEM]), row[_WORD]
            if word == _HINTED:
                shown.append(key)
            else:
                cause, since_ms = row[_CAUSE], row[_SINCE]
                told = None if cause is None else _CAUSES[cause]
                reads.append(note_read(key, _VERDICTS[word], told, since_ms, alone=bool(alone)))
        yield TakeReads(
            day=day,
            self_marked=bool(self_marked),
            reads=tuple(reads),
            shown=tuple(shown),
            drill=is_drill_title(title),
            minute=minute,
            on_map=maps[neck_map].key,
            at_pace=in_time is not None and is_at_pace(map(_paced_note, notes)),
            placed=PlayedOn(kind) in TELL_PLACES,
        )


class _MapTexts(NamedTuple):
    name: str
    key: str


def _paced_note(row: tuple[Any, ...]) -> PacedNote:
    *_, word, _, _, _, onset, onset_before, since_ms = row
    gap = None if onset_before is None else _quarters(onset) - _quarters(onset_before)
    return PacedNote(gap, since_ms, _VERDICTS[word] in COUNTS_AS_CLEAN)


@lru_cache(maxsize=4096)
def _quarters(onset: str) -> float:
    return float(fraction(onset))


def _words(members: frozenset[Stage] | frozenset[Verdict]) -> str:
    """Words of our own for a statement: never from outside."""
    return ", ".join(sorted(f"'{member.value}'" for member in members))
