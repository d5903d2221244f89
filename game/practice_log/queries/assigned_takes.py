"""The takes of some passages, each with the map it was played on, for what is set against what was done."""

import json
import sqlite3
from collections.abc import Collection, Sequence
from typing import Any
from uuid import UUID

from game.coach.events import PassageFacts, TakeResult
from game.coach.notes.map_identity import map_key
from game.coach.stages import Stage
from game.practice_log.queries.coach_events import renamed_passages
from game.practice_log.queries.entry_order import DAY_NUMBER, ORDER
from game.practice_log.queries.summaries_sql import COUNTS_AS_CLEAN, NOT_ASKED
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.rows.take_rows import neck_maps

_TAKES = f"""
SELECT bars.passage_key, take.neck_map, {DAY_NUMBER}, take.stage, take.tempo_bpm, take.self_marked, take.asked,
    sighting.judgement
FROM json_each(:keys) AS wanted
CROSS JOIN bars ON bars.passage_key = wanted.value
CROSS JOIN take ON take.bars = bars.bars
CROSS JOIN entry ON entry.kind = 'take' AND entry.row = take.take
CROSS JOIN device USING (device)
CROSS JOIN summaries.sighting ON sighting.take = take.take
WHERE entry.player = (SELECT player FROM player WHERE uuid = :player) AND entry.moment_us >= :since
    AND sighting.judgement IS NOT NULL
ORDER BY {ORDER}
"""
_COUNTS = f"""
SELECT told.judgement, COALESCE(SUM(told.verdict NOT IN {NOT_ASKED}), 0),
    COALESCE(SUM(told.verdict IN {COUNTS_AS_CLEAN}), 0),
    COALESCE(SUM(told.verdict IN ('early', 'late')), 0), COALESCE(SUM(told.verdict = 'unread'), 0),
    COALESCE(SUM(told.verdict = 'unsure'), 0), group_concat(CASE WHEN told.verdict = 'other place' THEN told.n END)
FROM json_each(:judged) AS wanted
CROSS JOIN {{told}} AS told ON told.judgement = json_extract(wanted.value, '$[0]')
CROSS JOIN asked_note AS note ON note.asked = json_extract(wanted.value, '$[1]') AND note.n = told.n
WHERE note.string IS NOT NULL
GROUP BY told.judgement
"""
_HAPPENED = """
SELECT event.judgement, SUM(event.kind = 'stop'), SUM(event.kind = 'restart')
FROM json_each(:judged) AS wanted CROSS JOIN event ON event.judgement = json_extract(wanted.value, '$[0]')
GROUP BY event.judgement
"""
_NOTHING = (0, 0, 0, 0, 0, None)
_Counts = dict[int, tuple[Any, ...]]


def takes_of_passages(
    connection: sqlite3.Connection, player: UUID, keys: Collection[str], *, since_us: int
) -> list[tuple[str, TakeResult]]:
    """The judged takes of passages, by their keys, from a moment on (microseconds since 1970, UTC), in the order of
    everything: each with the text of its map (`map_key`). A passage that was corrected or read anew since goes by the
    key it has now. Without the times that notes took to find, and how often the bars had been met.
    """
    now = renamed_passages(connection, player)
    wanted = {*keys, *(was for was, is_now in now.items() if is_now in keys)}
    values = {"keys": json.dumps(sorted(wanted)), "player": str(player), "since": since_us}
    with sightings_up_to_date(connection, player):
        rows = connection.execute(_TAKES, values).fetchall()
    maps = {number: map_key(neck_map) for number, neck_map in neck_maps(connection).items()} if rows else {}
    counts, happened = _counts(connection, rows)
    return [(maps[row[1]], _result(now.get(row[0], row[0]), row[2:], counts, happened)) for row in rows]


def _counts(connection: sqlite3.Connection, rows: Sequence[tuple[Any, ...]]) -> tuple[_Counts, _Counts]:
    """What came of the notes of takes, and what happened in them, by their judgements: for all of them at once."""
    counts: _Counts = {}
    for told, named in (("named", True), ("verdict", False)):
        judged = [(row[7], row[6]) for row in rows if (row[3] == Stage.LETTERS.value) is named]
        found = connection.execute(_COUNTS.format(told=told), {"judged": json.dumps(judged)})
        counts.update((judgement, rest) for judgement, *rest in found)
    every = json.dumps([(row[7],) for row in rows])
    happened: _Counts = {judgement: rest for judgement, *rest in connection.execute(_HAPPENED, {"judged": every})}
    return counts, happened


def _result(name: str, take: tuple[Any, ...], counts: _Counts, happened: _Counts) -> TakeResult:
    day, stage, tempo_bpm, self_marked, _, judgement = take
    homes, clean, off_time, unread, unsure, elsewhere = counts.get(judgement, _NOTHING)
    stops, restarts = happened.get(judgement, (0, 0))
    return TakeResult(
        passage=PassageFacts(name=name),
        day=day,
        stage=Stage(stage),
        homes=homes,
        clean=clean,
        tempo_bpm=tempo_bpm,
        off_time=off_time,
        unread=unread,
        unsure=unsure,
        stops=stops,
        restarts=restarts,
        other_place_notes=frozenset(map(int, elsewhere.split(","))) if elsewhere else frozenset(),
        self_marked=bool(self_marked),
    )
