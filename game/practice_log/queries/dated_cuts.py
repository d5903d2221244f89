"""Cuts of a log some days before its newest entry: entries of long ago that come late leave what was made of the
entries before them good.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from uuid import UUID

from game.practice_log.queries.entry_order import Position, position_at
from game.practice_log.queries.log_cut import LogCut, cut_at

AGES_DAYS = (1, 3, 7, 14, 30, 90)
"""About so old are those that are kept besides the newest, by the moments in the log. Ours."""

DAY_US = 86_400_000_000


def days_before(connection: sqlite3.Connection, player: UUID, after: Position, newest: Position) -> Iterator[LogCut]:
    """All that there was some days before the newest entry, of those positions that lie after one, oldest first."""
    for age in reversed(AGES_DAYS):
        position = position_at(connection, player, newest.moment_us - age * DAY_US)
        if after < position < newest:
            yield cut_at(connection, player, position)
            after = position


def which_to_keep(moments_us: Iterable[int], newest_us: int) -> set[int]:
    """Of what is kept of days before, by its moments, what stays: of each age the oldest, so that it gets to the next
    age in time; and of all beyond the last age the newest.
    """
    kept: dict[int, int] = {}
    for moment_us in sorted(moments_us):
        age = sum((newest_us - moment_us) / DAY_US >= days for days in AGES_DAYS)
        if age == len(AGES_DAYS) or age not in kept:
            kept[age] = moment_us
    return set(kept.values())
