"""Rows that many takes share: who, what music, which map, which instrument. Each stands once."""

import sqlite3
from typing import Any

from game.neck.neck_map import NeckMap
from game.practice_log.database.identity import Identity
from game.practice_log.rows.log_records import Bars, InstrumentUsed
from game.practice_log.rows.row_values import json_array

_DEVICE = (
    "SELECT device FROM device WHERE uuid = :uuid",
    "INSERT INTO device (uuid, name) VALUES (:uuid, :name)",
)
_PLAYER = (
    "SELECT player FROM player WHERE uuid = :uuid",
    "INSERT INTO player (uuid, name) VALUES (:uuid, :name)",
)
_BARS = (
    (
        "SELECT bars FROM bars WHERE passage_key = :passage_key AND title = :title AND first = :first AND last = :last "
        "AND start = :start AND stop = :stop"
    ),
    (
        "INSERT INTO bars (passage_key, title, first, last, start, stop) "
        "VALUES (:passage_key, :title, :first, :last, :start, :stop)"
    ),
)
_NECK_MAP = (
    (
        "SELECT neck_map FROM neck_map WHERE position = :position AND tuning = :tuning "
        "AND open_strings = :open_strings AND frets = :frets AND reading = :reading AND choices = :choices"
    ),
    (
        "INSERT INTO neck_map (position, tuning, open_strings, frets, reading, choices) "
        "VALUES (:position, :tuning, :open_strings, :frets, :reading, :choices)"
    ),
)
_INSTRUMENT = (
    "SELECT instrument FROM instrument WHERE name = :name AND kind = :kind",
    "INSERT INTO instrument (name, kind) VALUES (:name, :kind)",
)
_SOURCE = (
    "SELECT source FROM source WHERE name = :name",
    "INSERT INTO source (name) VALUES (:name)",
)


def put_device(connection: sqlite3.Connection, device: Identity) -> int:
    """The number of a device in this log."""
    return _number(connection, _DEVICE, {"uuid": str(device.uuid), "name": device.name})


def put_player(connection: sqlite3.Connection, player: Identity) -> int:
    """The number of a player in this log."""
    return _number(connection, _PLAYER, {"uuid": str(player.uuid), "name": player.name})


def put_bars(connection: sqlite3.Connection, bars: Bars) -> int:
    """The number of these bars of this tune."""
    fields = {"passage_key": bars.passage_key, "title": bars.title, "first": bars.first, "last": bars.last}
    return _number(connection, _BARS, fields | {"start": bars.start, "stop": bars.stop})


def put_neck_map(connection: sqlite3.Connection, neck_map: NeckMap) -> int:
    """The number of a map: what it is made from, not its homes."""
    return _number(connection, _NECK_MAP, neck_map_columns(neck_map))


def neck_map_columns(neck_map: NeckMap) -> dict[str, Any]:
    """What a map is made from, by the names of its columns."""
    choices = sorted((sounding, place.string, place.fret) for sounding, place in neck_map.choices.items())
    return {
        "position": neck_map.position,
        "tuning": neck_map.tuning.name,
        "open_strings": json_array(neck_map.tuning.open_strings),
        "frets": neck_map.frets,
        "reading": neck_map.reading.value,
        "choices": json_array(choices),
    }


def put_instrument(connection: sqlite3.Connection, instrument: InstrumentUsed) -> int:
    """The number of an instrument."""
    return _number(connection, _INSTRUMENT, {"name": instrument.name, "kind": instrument.kind.value})


def put_source(connection: sqlite3.Connection, name: str) -> int:
    """The number of a device's name, as notes carry it."""
    return _number(connection, _SOURCE, {"name": name})


def _number(connection: sqlite3.Connection, statements: tuple[str, str], fields: dict[str, Any]) -> int:
    """The number of the row with these values, which is added where there is none."""
    find, add = statements
    found = connection.execute(find, fields).fetchone()
    if found:
        return int(found[0])
    number = connection.execute(add, fields).lastrowid
    assert number is not None
    return number
