"""Everything in a log has one order, whatever the numbers of its rows."""

from datetime import UTC, date, datetime, timedelta, timezone
from itertools import permutations
from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.entry_order import (
    AFTER_ALL,
    BEFORE_ALL,
    BETWEEN,
    DAY,
    DAY_NUMBER,
    ORDER,
    Position,
    bounds,
    entries_after,
    newest_position,
    position_at,
    position_before_newest,
)
from game.practice_log.rows.entry_rows import About, Kind, Recorded, put_fact, us_of
from game.practice_log.rows.shared_rows import put_device, put_player
from tests.practice_log.logged_takes import MORNING, PLAYER

ONE, OTHER = (Identity(uuid=UUID(int=n), name="") for n in (1, 2))
MINUTE = timedelta(minutes=1)


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def tell(log, device, at, player=PLAYER):
    put_fact(log, Recorded(put_device(log, device), put_player(log, player), at), About.SETTING, {})


def between(log, after=BEFORE_ALL, upto=AFTER_ALL, player=PLAYER):
    statement = f"SELECT {ORDER} FROM entry JOIN device USING (device) WHERE {BETWEEN} ORDER BY {ORDER}"
    return [Position(*row) for row in log.execute(statement, bounds(player.uuid, after, upto))]


def test_an_empty_log_ends_before_all(log):
    assert newest_position(log, PLAYER.uuid) == position_at(log, PLAYER.uuid, us_of(MORNING)) == BEFORE_ALL
    assert entries_after(log, PLAYER.uuid, Kind.FACT, BEFORE_ALL) == 0


TOLD = ((ONE, 0), (OTHER, 0), (OTHER, 1), (ONE, 2))
# Each device tells its own in turn; between devices rows may come in any order.
ROWS = [
    order
    for order in permutations(TOLD)
    if all(
        [told for told in order if told[0] is device] == [told for told in TOLD if told[0] is device]
        for device in (ONE, OTHER)
    )
]


@pytest.mark.parametrize("order", ROWS)
def test_entries_stand_by_moment_then_device_however_they_came_into_the_file(order):
    log = open_store(None, now_utc=MORNING)
    for device, minutes in order:
        tell(log, device, MORNING + minutes * MINUTE)
    found = [(position.device, position.moment_us - us_of(MORNING)) for position in between(log)]
    one, other, minute = str(ONE.uuid), str(OTHER.uuid), 60_000_000
    assert found == [(one, 0), (other, 0), (other, minute), (one, 2 * minute)]
    log.close()


def test_of_one_moment_the_count_of_the_device_decides_and_of_one_count_its_clock(log):
    for _ in range(3):
        tell(log, ONE, MORNING)
    positions = between(log)
    assert [position.sequence for position in positions] == [1, 2, 3]
    copied = positions[2]._replace(at_us=positions[2].at_us + 1)
    assert positions == sorted(positions) < [copied]


def test_a_stretch_of_the_order_begins_after_one_position_and_ends_with_another(log):
    for minutes in range(5):
        tell(log, ONE, MORNING + minutes * MINUTE)
    every = between(log)
    assert between(log, after=every[1], upto=every[3]) == every[2:4]
    assert between(log, after=every[4]) == []
    assert between(log, player=OTHER) == []
    assert newest_position(log, PLAYER.uuid) == every[4]
    assert position_at(log, PLAYER.uuid, every[2].moment_us) == every[2]
    assert position_at(log, PLAYER.uuid, every[2].moment_us - 1) == every[1]
    assert entries_after(log, PLAYER.uuid, Kind.FACT, every[1]) == 3
    assert entries_after(log, PLAYER.uuid, Kind.TAKE, every[1]) == 0
    assert position_before_newest(log, PLAYER.uuid, Kind.FACT, 2) == every[2]
    assert position_before_newest(log, PLAYER.uuid, Kind.FACT, 5) == BEFORE_ALL


@pytest.mark.parametrize(
    ("at", "hours", "day"),
    [
        (datetime(2026, 12, 31, 23, 30, tzinfo=UTC), 0, date(2026, 12, 31)),
        (datetime(2026, 12, 31, 23, 30, tzinfo=UTC), 1, date(2027, 1, 1)),
        (datetime(2027, 1, 1, 9, 59, tzinfo=UTC), -10, date(2026, 12, 31)),
        (datetime(2028, 2, 29, 12, 0, tzinfo=UTC), 13.75, date(2028, 3, 1)),
        (datetime(1970, 1, 1, 0, 30, tzinfo=UTC), -1, date(1969, 12, 31)),
        (datetime(2126, 6, 1, tzinfo=UTC), 0, date(2126, 6, 1)),
    ],
)
def test_a_day_is_the_date_on_the_wall_where_the_player_was(log, at, hours, day):
    tell(log, ONE, at.astimezone(timezone(timedelta(hours=hours))))
    assert log.execute(f"SELECT {DAY}, {DAY_NUMBER} FROM entry").fetchone() == (day.isoformat(), day.toordinal())
