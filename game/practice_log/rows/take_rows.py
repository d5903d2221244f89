"""Takes as they begin, into the log and back."""

import sqlite3
from collections.abc import Mapping
from dataclasses import fields
from typing import Any
from uuid import UUID

from game.instrument.sources.note_sources import PlayedOn
from game.music.score import Reading
from game.neck.neck_map import NeckMap, standard_map
from game.neck.tuning import Place, Tuning
from game.practice_log.database.identity import Identity
from game.practice_log.rows.asked_notes import asked_of, put_asked
from game.practice_log.rows.entry_rows import Kind, Recorded, put_entry, time_of
from game.practice_log.rows.log_records import (
    Asked,
    Bars,
    InstrumentUsed,
    LoggedTake,
    Outcome,
    TakeBegun,
    Terms,
)
from game.practice_log.rows.row_values import columns_of, from_json_array, record_from, utc_from, utc_text
from game.practice_log.rows.shared_rows import put_bars, put_device, put_instrument, put_neck_map, put_player
from game.practice_log.rows.standing import standing

_SHARED = ("player", "started_utc", "bars", "asked", "neck_map", "instrument")
_TERMS = tuple(field.name for field in fields(Terms))
_COLUMNS = (*_SHARED, *_TERMS, "sighting", "heard", "known_by_ear")
_INSERT = f"""
INSERT INTO take (device, number, {", ".join(_COLUMNS)})
SELECT :device, COALESCE(MAX(number), 0) + 1, {", ".join(f":{name}" for name in _COLUMNS)}
FROM take WHERE device = :device
"""
_SELECT = f"""
SELECT take.*, player.uuid AS player_uuid, player.name AS player_name,
    bars.passage_key, bars.title, bars.first, bars.last, bars.start, bars.stop,
    neck_map.position, neck_map.tuning, neck_map.open_strings, neck_map.frets, neck_map.reading, neck_map.choices,
    instrument.name AS instrument_name, instrument.kind,
    judgement.judge, judgement.ended_utc, judgement.outcome, entry.moment_us, entry.zone_minutes,
    take_tune.tune
FROM take
JOIN entry ON entry.kind = 'take' AND entry.row = take.take
JOIN device ON device.device = entry.device
JOIN player ON player.player = entry.player
JOIN bars USING (bars)
JOIN neck_map USING (neck_map)
JOIN instrument USING (instrument)
LEFT JOIN take_tune ON take_tune.take = take.take
LEFT JOIN judgement ON judgement.judgement = {standing("take.take")}
"""
_ORDER = "entry.moment_us, device.uuid, entry.sequence, entry.at_us"


def put_take(connection: sqlite3.Connection, begun: TakeBegun, device: Identity) -> int:
    """The number of a new take in this log."""
    recorded = Recorded(put_device(connection, device), put_player(connection, begun.player), begun.started_at)
    fields = {
        "device": recorded.device,
        "player": recorded.player,
        "started_utc": utc_text(begun.started_at),
        "bars": put_bars(connection, begun.bars),
        "asked": put_asked(connection, begun.asked),
        "neck_map": put_neck_map(connection, begun.neck_map),
        "instrument": put_instrument(connection, begun.instrument),
        **columns_of(begun.terms),
        # Folded from the log (`queries.take_sightings`): only old takes say it of themselves.
        "sighting": 1,
        "heard": False,
        "known_by_ear": None,
    }
    number = connection.execute(_INSERT, fields).lastrowid
    assert number is not None
    put_entry(connection, recorded, Kind.TAKE, number)
    if begun.tune is not None:
        connection.execute("INSERT INTO take_tune (take, tune) VALUES (?, ?)", (number, begun.tune))
    return number


def takes_where(connection: sqlite3.Connection, condition: str, values: tuple[Any, ...]) -> tuple[LoggedTake, ...]:
    """The takes that meet an SQL condition of our own, in the order of everything."""
    cursor = connection.execute(f"{_SELECT} WHERE {condition} ORDER BY {_ORDER}", values)
    names = [column[0] for column in cursor.description]
    rows = [dict(zip(names, row, strict=True)) for row in cursor.fetchall()]
    # Many takes ask the same notes on the same map: each is put together once.
    maps = {row["neck_map"]: row for row in rows}
    on_maps = {number: neck_map_from(row) for number, row in maps.items()}
    which = [(row["asked"], on_maps[row["neck_map"]].reading.clef) for row in rows]
    asked = {one: asked_of(connection, *one) for one in set(which)}
    return tuple(_logged(row, asked[one], on_maps[row["neck_map"]]) for row, one in zip(rows, which, strict=True))


def neck_maps(connection: sqlite3.Connection) -> dict[int, NeckMap]:
    """The maps of the log by their numbers."""
    cursor = connection.execute("SELECT * FROM neck_map")
    names = [column[0] for column in cursor.description]
    rows = (dict(zip(names, row, strict=True)) for row in cursor)
    return {row["neck_map"]: neck_map_from(row) for row in rows}


def neck_map_from(row: Mapping[str, Any]) -> NeckMap:
    """A map by the names of its columns."""
    return standard_map(
        position=row["position"],
        tuning=Tuning(row["tuning"], tuple(from_json_array(row["open_strings"]))),
        frets=row["frets"],
        reading=Reading(row["reading"]),
        choices={sounding: Place(string, fret) for sounding, string, fret in from_json_array(row["choices"])},
    )


def _logged(row: dict[str, Any], asked: Asked, neck_map: NeckMap) -> LoggedTake:
    begun = TakeBegun(
        started_at=utc_from(row["started_utc"]),
        player=Identity(uuid=UUID(row["player_uuid"]), name=row["player_name"]),
        bars=record_from(Bars, row),
        terms=record_from(Terms, row),
        asked=asked,
        neck_map=neck_map,
        instrument=InstrumentUsed(name=row["instrument_name"], kind=PlayedOn(row["kind"])),
        tune=row["tune"],
    )
    return LoggedTake(
        take=row["take"],
        day=time_of(row["moment_us"], row["zone_minutes"]).date(),
        begun=begun,
        outcome=None if row["outcome"] is None else Outcome(row["outcome"]),
        judge=row["judge"],
        ended_at=None if row["ended_utc"] is None else utc_from(row["ended_utc"]),
    )
