"""What was truly read, out of the log: years of it in one go."""

import sqlite3
from collections.abc import Iterator
from datetime import date
from itertools import groupby
from operator import itemgetter
from typing import Any
from uuid import UUID

from game.coach.notes.items import ItemKey, map_name
from game.coach.notes.note_reads import EVIDENCE, TakeReads, note_read
from game.coach.numbers import NUMBERS
from game.coach.sightings import READING_STAGES
from game.coach.stages import Stage
from game.judging.verdicts import Cause, Verdict
from game.music.accidentals import AlteredBy
from game.neck.tuning import Place
from game.practice_log.rows.row_values import utc_from
from game.practice_log.rows.take_rows import neck_maps

_VERDICTS = {verdict.value: verdict for verdict in Verdict}
_CAUSES = {cause.value: cause for cause in Cause}
_UNTIMED = "take.stage <> 'places' OR before.sounding IS NULL OR before.sounding = note.sounding"
"""Where a time to find tells nothing: rhythm was asked too, the first note, and one that repeats the note before."""

_READINGS = """
SELECT judgement.judgement, take.started_utc, take.self_marked, take.neck_map, note.written, note.sounding, note.string,
    note.fret, CASE WHEN note.sign IS NULL THEN note.altered_by ELSE 'accidental' END,
    verdict.verdict, verdict.cause, CASE WHEN {untimed} THEN NULL ELSE verdict.time_to_find_ms END
FROM judgement
CROSS JOIN take USING (take)
CROSS JOIN verdict USING (judgement)
CROSS JOIN asked_note AS note ON note.asked = take.asked AND note.n = verdict.n
LEFT JOIN asked_note AS before ON before.asked = take.asked AND before.n = verdict.n - 1
WHERE judgement.judgement > :after
    AND judgement.judgement = (SELECT MAX(newest.judgement) FROM judgement AS newest WHERE newest.take = take.take)
    AND NOT EXISTS (SELECT 1 FROM judgement AS known WHERE known.take = take.take AND known.judgement <= :after)
    AND take.player = (SELECT player FROM player WHERE uuid = :player)
    AND take.stage IN ({stages}) AND take.sighting <= :sightings AND NOT take.heard
    AND COALESCE(take.known_by_ear, 0) = 0 AND note.string IS NOT NULL AND verdict.verdict IN ({evidence})
ORDER BY judgement.judgement, verdict.n
"""


def takes_read(connection: sqlite3.Connection, player: UUID, *, after: int = 0) -> Iterator[tuple[int, TakeReads]]:
    """The takes that were a reading, in the order in which they were judged, each with the number of its judgement,
    from the first above `after`. Those without any evidence are left out, and so are takes that were judged before.
    """
    maps = {number: map_name(neck_map) for number, neck_map in neck_maps(connection).items()}
    keys: dict[tuple[Any, ...], ItemKey] = {}

    def key_of(item: tuple[Any, ...]) -> ItemKey:
        """The same few items come again and again: each is put together once."""
        if item not in keys:
            neck_map, written, sounding, string, fret, shown = item
            keys[item] = ItemKey(
                written=written,
                shown=AlteredBy(shown),
                map_name=maps[neck_map],
                place=Place(string, fret),
                sounding=sounding,
            )
        return keys[item]

    rows = connection.execute(
        _READINGS.format(untimed=_UNTIMED, stages=_words(READING_STAGES), evidence=_words(EVIDENCE)),
        {"player": str(player), "after": after, "sightings": NUMBERS.sightings_read},
    )
    for number, of_take in groupby(rows, key=itemgetter(0)):
        notes = list(of_take)
        _, started, self_marked, *_ = notes[0]
        reads = tuple(
            note_read(key_of(tuple(item)), _VERDICTS[word], None if cause is None else _CAUSES[cause], find_ms)
            for _, _, _, *item, word, cause, find_ms in notes
        )
        yield number, TakeReads(_day(started), bool(self_marked), reads)


def _day(started_utc: str) -> int:
    """The player's day, counted from the first of January of year 1."""
    started: date = utc_from(started_utc).astimezone().date()
    return started.toordinal()


def _words(members: frozenset[Stage] | frozenset[Verdict]) -> str:
    """Words of our own for a statement: never from outside."""
    return ", ".join(sorted(f"'{member.value}'" for member in members))
