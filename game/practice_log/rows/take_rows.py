"""Takes as they begin, into the log and back."""

import sqlite3
from typing import Any
from uuid import UUID

from game.coach.stages import Pulse, Stage
from game.instrument.sources.note_sources import PlayedOn
from game.music.score import Reading
from game.neck.neck_map import NeckMap, standard_map
from game.neck.tuning import Place, Tuning
from game.practice_log.database.identity import Identity
from game.practice_log.rows.asked_notes import asked_of, put_asked
from game.practice_log.rows.log_records import (
    Asked,
    Bars,
    InstrumentUsed,
    LoggedTake,
    Outcome,
    Sighting,
    TakeBegun,
    Terms,
)
from game.practice_log.rows.row_values import fraction, numbers_from, truth, utc_from, utc_text
from game.practice_log.rows.shared_rows import put_bars, put_device, put_instrument, put_neck_map, put_player

_INSERT = """
INSERT INTO take (
    device, number, player, started_utc, bars, asked, neck_map, instrument, stage, pulse, tempo_bpm, beat_length, swing,
    waits, wants_home, pitch_counts, window_ms, settling, sighting, heard, known_by_ear, self_marked
)
SELECT :device, COALESCE(MAX(number), 0) + 1, :player, :started_utc, :bars, :asked, :neck_map, :instrument, :stage,
    :pulse, :tempo_bpm, :beat_length, :swing, :waits, :wants_home, :pitch_counts, :window_ms, :settling, :sighting,
    :heard, :known_by_ear, :self_marked
FROM take WHERE device = :device
"""
_SELECT = """
SELECT take.*, player.uuid AS player_uuid, player.name AS player_name,
    bars.passage_key, bars.title, bars.first, bars.last, bars.start, bars.stop,
    neck_map.position, neck_map.tuning, neck_map.open_strings, neck_map.frets, neck_map.reading, neck_map.choices,
    instrument.name AS instrument_name, instrument.kind,
    judgement.judge, judgement.ended_utc, judgement.outcome
FROM take
JOIN player USING (player)
JOIN bars USING (bars)
JOIN neck_map USING (neck_map)
JOIN instrument USING (instrument)
LEFT JOIN judgement ON judgement.judgement = (
    SELECT MAX(latest.judgement) FROM judgement AS latest WHERE latest.take = take.take
)
"""


def put_take(connection: sqlite3.Connection, begun: TakeBegun, device: Identity) -> int:
    """The number of a new take in this log."""
    terms, sighting = begun.terms, begun.sighting
    fields = {
        "device": put_device(connection, device),
        "player": put_player(connection, begun.player),
        "started_utc": utc_text(begun.started_utc),
        "bars": put_bars(connection, begun.bars),
        "asked": put_asked(connection, begun.asked),
        "neck_map": put_neck_map(connection, begun.neck_map),
        "instrument": put_instrument(connection, begun.instrument),
        "stage": terms.stage.value,
        "pulse": terms.pulse.value,
        "tempo_bpm": terms.tempo_bpm,
        "beat_length": str(terms.beat_length),
        "swing": terms.swing,
        "waits": terms.waits,
        "wants_home": terms.wants_home,
        "pitch_counts": terms.pitch_counts,
        "window_ms": terms.window_ms,
        "settling": terms.settling,
        "sighting": sighting.nth,
        "heard": sighting.heard,
        "known_by_ear": sighting.known_by_ear,
        "self_marked": terms.self_marked,
    }
    number = connection.execute(_INSERT, fields).lastrowid
    assert number is not None
    return number


def takes_where(connection: sqlite3.Connection, condition: str, values: tuple[Any, ...]) -> tuple[LoggedTake, ...]:
    """The takes that meet an SQL condition of our own, in the order in which they were written."""
    cursor = connection.execute(f"{_SELECT} WHERE {condition} ORDER BY take.take", values)
    names = [column[0] for column in cursor.description]
    rows = [dict(zip(names, row, strict=True)) for row in cursor.fetchall()]
    # Many takes ask the same notes on the same map: each is put together once.
    asked = {number: asked_of(connection, number) for number in {row["asked"] for row in rows}}
    maps = {row["neck_map"]: row for row in rows}
    on_maps = {number: _map(row) for number, row in maps.items()}
    return tuple(_logged(row, asked[row["asked"]], on_maps[row["neck_map"]]) for row in rows)


def neck_maps(connection: sqlite3.Connection) -> dict[int, NeckMap]:
    """The maps of the log by their numbers."""
    cursor = connection.execute("SELECT * FROM neck_map")
    names = [column[0] for column in cursor.description]
    rows = (dict(zip(names, row, strict=True)) for row in cursor)
    return {row["neck_map"]: _map(row) for row in rows}


def _map(row: dict[str, Any]) -> NeckMap:
    return standard_map(
        position=row["position"],
        tuning=Tuning(row["tuning"], tuple(numbers_from(row["open_strings"]))),
        frets=row["frets"],
        reading=Reading(row["reading"]),
        choices={sounding: Place(string, fret) for sounding, string, fret in numbers_from(row["choices"])},
    )


def _logged(row: dict[str, Any], asked: Asked, neck_map: NeckMap) -> LoggedTake:
    begun = TakeBegun(
        started_utc=utc_from(row["started_utc"]),
        player=Identity(uuid=UUID(row["player_uuid"]), name=row["player_name"]),
        bars=Bars(**{name: row[name] for name in Bars.__dataclass_fields__}),
        terms=_terms(row),
        asked=asked,
        neck_map=neck_map,
        instrument=InstrumentUsed(name=row["instrument_name"], kind=PlayedOn(row["kind"])),
        sighting=Sighting(nth=row["sighting"], heard=bool(row["heard"]), known_by_ear=truth(row["known_by_ear"])),
    )
    return LoggedTake(
        take=row["take"],
        begun=begun,
        outcome=None if row["outcome"] is None else Outcome(row["outcome"]),
        judge=row["judge"],
        ended_utc=None if row["ended_utc"] is None else utc_from(row["ended_utc"]),
    )


def _terms(row: dict[str, Any]) -> Terms:
    return Terms(
        stage=Stage(row["stage"]),
        pulse=Pulse(row["pulse"]),
        tempo_bpm=row["tempo_bpm"],
        beat_length=fraction(row["beat_length"]),
        swing=row["swing"],
        waits=bool(row["waits"]),
        wants_home=bool(row["wants_home"]),
        pitch_counts=bool(row["pitch_counts"]),
        window_ms=row["window_ms"],
        settling=bool(row["settling"]),
        self_marked=bool(row["self_marked"]),
    )
