"""The entry behind each thing in the log: its key, the same in every copy, and its place in time."""

import json
import sqlite3
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta
from enum import Enum
from typing import Any, NamedTuple

from game.practice_log.database.clock_order import TOLERATED_US, ClockPutRight, Stamp, moments

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_US = timedelta(microseconds=1)
_LAST_COUNTED = "SELECT sequence, moment_us FROM entry WHERE device = ? AND sequence > 0 ORDER BY sequence DESC LIMIT 1"
_DAY_US = timedelta(days=1) // _US


class Kind(Enum):
    """What an entry is: the table that its row stands in."""

    TAKE = "take"
    JUDGEMENT = "judgement"
    COACH = "coach"
    FACT = "fact"
    UNREAD = "unread"


class About(Enum):
    """What a fact is about. A newer program may know others, which are kept all the same."""

    SETTING = "setting"
    KNOWN_BY_EAR = "ear"
    OPENED_TUNE = "opened"
    HEARD = "heard"
    MET_LINE = "line"
    RENAMED_PASSAGE = "renamed passage"
    CUT_ANEW = "cut anew"
    TUNE_PAGES = "tune pages"
    ASSIGNMENT = "assignment"
    PLAYER_NAME = "name"
    CLOCK = "clock"
    SAME_PLAYER = "same player"
    FROM_PAPER = "from paper"
    PLAN_STEP = "plan step"
    AIM = "aim"
    SIGNATURE = "signature"
    SIGNED_PAGE = "signed page"
    PROGRAMME = "programme"
    PROGRAMME_PLAYED = "programme played"
    COURSE = "course"
    COURSE_BARS = "course bars"
    SLIP_OFFERED = "slip offered"
    FLUENT_MAP = "fluent map"
    NEXT_MAP = "next map"
    MAP = "map"


class Recorded(NamedTuple):
    """Who records something, by their numbers in this log, and when: `at` knows the zone of the player."""

    device: int
    player: int
    at: datetime


def us_of(at: datetime) -> int:
    """A time as microseconds since 1970, UTC. Raises `ValueError` for one that does not know its zone."""
    if at.tzinfo is None:
        raise ValueError(f"a time in the log knows its zone: {at} does not")
    return (at - _EPOCH) // _US


def time_of(at_us: int, zone_minutes: int = 0) -> datetime:
    """The opposite of `us_of`, in UTC, moved by so many minutes: what the clock on the wall showed."""
    return _EPOCH + timedelta(microseconds=at_us, minutes=zone_minutes)


def day_of_moment(moment_us: int, zone_minutes: int) -> int:
    """The player's day of a moment, counted from the first of January of year 1."""
    return time_of(moment_us, zone_minutes).date().toordinal()


def put_entry(connection: sqlite3.Connection, recorded: Recorded, kind: Kind, row: int) -> None:
    """Add the entry of something that this device has just recorded, with the next of its counts.

    See `check_clock`.
    """
    check_clock(connection, recorded)
    _put_next(connection, recorded, kind, row)


def check_clock(connection: sqlite3.Connection, recorded: Recorded) -> None:
    """Where what this device has recorded is of later than now, its clock was put right since: record that."""
    if us_of(recorded.at) < _newest_us(connection, recorded.device) - TOLERATED_US:
        put_clock_right(connection, recorded)


def put_fact(connection: sqlite3.Connection, recorded: Recorded, about: About, content: Mapping[str, Any]) -> None:
    """Add a fact: something that the player said, chose or met. `content` is what JSON can say."""
    put_entry(connection, recorded, Kind.FACT, _put_fact_row(connection, about, content))


def put_fact_of_file(
    connection: sqlite3.Connection, recorded: Recorded, about: About, content: Mapping[str, Any]
) -> None:
    """Add what a file said that lay beside the log, at the time of that file; or, since counts only ever rise, at the
    moment of what this device recorded last, where that is later. It says nothing of the clock.
    """
    row = _put_fact_row(connection, about, content)
    last = connection.execute(_LAST_COUNTED, (recorded.device,)).fetchone()
    if last is not None:
        recorded = recorded._replace(at=max(recorded.at, time_of(last[1]).astimezone(recorded.at.tzinfo)))
    _put_next(connection, recorded, Kind.FACT, row)


def put_clock_right(connection: sqlite3.Connection, recorded: Recorded, device: int | None = None) -> None:
    """Record that it is not later than `recorded` now, whatever the entries of a device say that are there by now: of
    the device that records, or of another one. They are moved accordingly.
    """
    device = recorded.device if device is None else device
    (uuid,) = connection.execute("SELECT uuid FROM device WHERE device = ?", (device,)).fetchone()
    (upto,) = connection.execute("SELECT MAX(sequence) FROM entry WHERE device = ?", (device,)).fetchone()
    said = {"device": uuid, "upto": upto}
    _put_next(connection, recorded, Kind.FACT, _put_fact_row(connection, About.CLOCK, said))
    settle_moments(connection, device)


def put_clocks_right(connection: sqlite3.Connection, recorded: Recorded) -> None:
    """Where other devices recorded things for times that are more than a day ahead, their clocks are wrong: record
    that. Where that goes for most of what is there, it is this clock that is wrong, and nothing is done.
    """
    future = {"player": recorded.player, "after": us_of(recorded.at) + _DAY_US, "own": recorded.device}
    ahead, all_there = connection.execute(
        "SELECT COUNT(CASE WHEN moment_us > :after THEN 1 END), COUNT(*) FROM entry WHERE player = :player", future
    ).fetchone()
    if not ahead or 2 * ahead >= all_there:
        return
    devices = connection.execute(
        "SELECT DISTINCT device FROM entry WHERE player = :player AND moment_us > :after AND device <> :own", future
    ).fetchall()
    for (device,) in devices:
        put_clock_right(connection, recorded, device)


def settle_gathered(connection: sqlite3.Connection, brought: Iterable[int]) -> None:
    """As `settle_moments`, after entries came from elsewhere: for the devices that `brought` some, and for those of
    whose clocks something was said. What one says of another's clock is by its own clock, which is settled first.
    """
    said_of = connection.execute(
        "SELECT DISTINCT device.device FROM fact JOIN device ON device.uuid = json_extract(content, '$.device') "
        "WHERE about = ?",
        (About.CLOCK.value,),
    )
    named = [device for (device,) in said_of]
    for device in (*brought, *named, *named):
        settle_moments(connection, device)


def settle_moments(connection: sqlite3.Connection, device: int) -> None:
    """Find out anew where the entries of a device stand in time, from all that was said of its clock."""
    rows = connection.execute(
        "SELECT entry, sequence, at_us, moment_us FROM entry WHERE device = ? ORDER BY sequence, at_us", (device,)
    ).fetchall()
    chain = [Stamp(sequence, at_us) for _, sequence, at_us, _ in rows]
    settled = moments(chain, _clock_put_right(connection, device))
    connection.executemany(
        "UPDATE entry SET moment_us = ? WHERE entry = ?",
        [(now_us, row[0]) for row, now_us in zip(rows, settled, strict=True) if now_us != row[3]],
    )


def _clock_put_right(connection: sqlite3.Connection, device: int) -> list[ClockPutRight]:
    """What was said of the clock of a device, each by the settled moment of whoever said it. What makes no sense, from
    elsewhere, is passed over.
    """
    said = connection.execute(
        "SELECT json_extract(content, '$.upto'), CASE WHEN entry.device = :device THEN at_us ELSE moment_us END, "
        "entry.device = :device "
        "FROM fact JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact WHERE about = :about "
        "AND json_extract(content, '$.device') = (SELECT uuid FROM device WHERE device = :device)",
        {"about": About.CLOCK.value, "device": device},
    )
    return [ClockPutRight(upto, now_us, bool(own)) for upto, now_us, own in said if isinstance(upto, int)]


def _newest_us(connection: sqlite3.Connection, device: int) -> int:
    """The moment of what a device recorded last, or the newest of an old log; 0 for none."""
    (newest,) = connection.execute(
        "SELECT COALESCE((SELECT moment_us FROM entry WHERE device = :device AND sequence > 0 "
        "ORDER BY sequence DESC LIMIT 1), (SELECT MAX(moment_us) FROM entry WHERE device = :device), 0)",
        {"device": device},
    ).fetchone()
    return int(newest)


def _put_fact_row(connection: sqlite3.Connection, about: About, content: Mapping[str, Any]) -> int:
    text = json.dumps(content, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    number = connection.execute("INSERT INTO fact (about, content) VALUES (?, ?)", (about.value, text)).lastrowid
    assert number is not None
    return number


def _put_next(connection: sqlite3.Connection, recorded: Recorded, kind: Kind, row: int) -> None:
    at_us = us_of(recorded.at)
    sequence, moment_us = connection.execute(_LAST_COUNTED, (recorded.device,)).fetchone() or (0, at_us)
    _put(connection, recorded, kind, row, sequence + 1, max(at_us, moment_us))
    if at_us - moment_us >= _DAY_US and _clock_put_right(connection, recorded.device):
        # It may be that the clock is right again, and was wrong when it was said to be put right.
        settle_moments(connection, recorded.device)


def _put(
    connection: sqlite3.Connection, recorded: Recorded, kind: Kind, row: int, sequence: int, moment_us: int
) -> None:
    zone = recorded.at.utcoffset() or timedelta()
    connection.execute(
        "INSERT INTO entry (device, sequence, at_us, zone_minutes, player, kind, row, moment_us) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (
            recorded.device,
            sequence,
            us_of(recorded.at),
            round(zone / timedelta(minutes=1)),
            recorded.player,
            kind.value,
            row,
            moment_us,
        ),
    )
