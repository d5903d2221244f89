"""Which entries of a log go along, in an order that is the same in every copy."""

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from game.practice_log.rows.entry_rows import Kind

_SELECT = """
SELECT device.uuid, sequence, at_us, zone_minutes, player.uuid, device.name, kind, row
FROM entry JOIN device USING (device) JOIN player USING (player)
"""
_BY_KEY = "ORDER BY device.uuid, sequence, at_us"
_DAY_US = 86_400_000_000
_FIRST_DAY = 719_163
"""The first of January 1970, counted from the first of January of year 1."""


class ChosenEntry(NamedTuple):
    """An entry of a log: its key, whose it is, and where its row stands."""

    device: str
    sequence: int
    at_us: int
    zone_minutes: int
    player: str
    device_name: str
    kind: str
    row: int

    @property
    def key(self) -> tuple[str, int, int]:
        """By what it is told from all others."""
        return (self.device, self.sequence, self.at_us)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Which entries: of a `player` and of a `device` by their numbers, None for all; by the time of the clock `from_us`
    (included) until `until_us` (not included); counted after `after` by their devices; of this day and later, by the
    zone of each, counted from the first of January of year 1. Where the takes are left out that were judged or that
    the coach heard of, so is that; `with_takes` lets them go along instead.
    """

    player: int | None = None
    device: int | None = None
    from_us: int | None = None
    until_us: int | None = None
    after: int | None = None
    since_day: int | None = None
    with_takes: bool = False


def chosen_entries(connection: sqlite3.Connection, choice: Choice) -> list[ChosenEntry]:
    """The entries in the order of their devices and counts."""
    conditions, values = _conditions(choice)
    where = f"WHERE {' AND '.join(conditions)} " if conditions else ""
    chosen = [ChosenEntry(*row) for row in connection.execute(f"{_SELECT}{where}{_BY_KEY}", values)]
    if not conditions:
        return chosen
    if choice.with_takes:
        return with_takes(connection, chosen)
    there = {entry.row for entry in chosen if entry.kind == Kind.TAKE.value}
    wanted = take_of_rows(connection, chosen)
    return [entry for entry in chosen if wanted.get((entry.kind, entry.row), -1) in there | {-1}]


def with_takes(connection: sqlite3.Connection, chosen: Sequence[ChosenEntry]) -> list[ChosenEntry]:
    """The entries, and the takes that were judged in them or that the coach heard of, in the order of all."""
    there = {entry.row for entry in chosen if entry.kind == Kind.TAKE.value}
    added = {take for take in take_of_rows(connection, chosen).values() if take not in there}
    return sorted([*chosen, *_takes(connection, added)], key=lambda entry: entry.key)


def take_of_rows(connection: sqlite3.Connection, entries: Iterable[ChosenEntry]) -> dict[tuple[str, int], int]:
    """The take that each judgement, and what the coach heard of takes, goes with; by kind and row."""
    found: dict[tuple[str, int], int] = {}
    rows: dict[str, list[int]] = {Kind.JUDGEMENT.value: [], Kind.COACH.value: []}
    for entry in entries:
        if entry.kind in rows:
            rows[entry.kind].append(entry.row)
    for kind, table in ((Kind.JUDGEMENT.value, "judgement"), (Kind.COACH.value, "coach_event")):
        takes = of_numbers(connection, f"SELECT {table}, take FROM {table} WHERE {table}", rows[kind])
        found.update({(kind, row): take for row, take in takes if take is not None})
    return found


def of_numbers(
    connection: sqlite3.Connection, select: str, numbers: Iterable[int], order: str = ""
) -> list[tuple[Any, ...]]:
    """The rows of a statement that ends in a column, where that is one of these numbers, in an `order`, or in any."""
    told = "[" + ",".join(map(str, map(int, numbers))) + "]"
    return connection.execute(f"{select} IN (SELECT value FROM json_each(?)) {order}", (told,)).fetchall()


def _conditions(choice: Choice) -> tuple[list[str], dict[str, int]]:
    since_us = None if choice.since_day is None else (choice.since_day - _FIRST_DAY) * _DAY_US
    told = (
        ("entry.player = :player", "player", choice.player),
        ("entry.device = :device", "device", choice.device),
        ("at_us >= :from_us", "from_us", choice.from_us),
        ("at_us < :until_us", "until_us", choice.until_us),
        ("sequence > :after", "after", choice.after),
        ("moment_us + 60000000 * zone_minutes >= :since_us", "since_us", since_us),
    )
    meant = [(condition, name, value) for condition, name, value in told if value is not None]
    return [condition for condition, _, _ in meant], {name: value for _, name, value in meant}


def _takes(connection: sqlite3.Connection, takes: Iterable[int]) -> list[ChosenEntry]:
    rows = of_numbers(connection, f"{_SELECT}WHERE kind = '{Kind.TAKE.value}' AND row", takes)
    return [ChosenEntry(*row) for row in rows]
