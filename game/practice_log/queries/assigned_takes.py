"""The takes of some passages, each with the map it was played on, for what is set against what was done."""

import json
import sqlite3
from collections.abc import Collection
from typing import Any
from uuid import UUID

from game.coach.events import PassageFacts, TakeResult
from game.coach.notes.map_identity import map_key
from game.coach.stages import Stage
from game.judging.verdicts import EventKind
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
SELECT COALESCE(SUM(told.verdict NOT IN {NOT_ASKED}), 0),
    COALESCE(SUM(told.verdict IN {COUNTS_AS_CLEAN}), 0),
    COALESCE(SUM(told.verdict IN ('early', 'late')), 0), COALESCE(SUM(told.verdict = 'unread'), 0),
    COALESCE(SUM(told.verdict = 'unsure'), 0), group_concat(CASE WHEN told.verdict = 'other place' THEN told.n END)
FROM {{told}} AS told CROSS JOIN asked_note AS note ON note.asked = :asked AND note.n = told.n
WHERE told.judgement = :judgement AND note.string IS NOT NULL
"""
_HAPPENED = "SELECT kind FROM event WHERE judgement = ?"


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
    return [(maps[row[1]], _result(connection, now.get(row[0], row[0]), row[2:])) for row in rows]


def _result(connection: sqlite3.Connection, name: str, take: tuple[Any, ...]) -> TakeResult:
    day, stage, tempo_bpm, self_marked, asked, judgement = take
    told = "named" if stage == Stage.LETTERS.value else "verdict"
    counts = connection.execute(_COUNTS.format(told=told), {"asked": asked, "judgement": judgement}).fetchone()
    homes, clean, off_time, unread, unsure, elsewhere = counts
    happened = [kind for (kind,) in connection.execute(_HAPPENED, (judgement,))]
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
        stops=happened.count(EventKind.STOP.value),
        restarts=happened.count(EventKind.RESTART.value),
        other_place_notes=frozenset(map(int, elsewhere.split(","))) if elsewhere else frozenset(),
        self_marked=bool(self_marked),
    )
