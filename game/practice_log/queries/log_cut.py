"""How far something goes that was made of a log, and by which entries: whether it still holds is told by this.

Entries may come late, from another device, and a clock that is put right moves those that were there. What was made of
all entries up to a position holds as long as the same ones stand before it, each where it stood: of every device as
many, up to the same count, with the same sum of moments. A take counts as it was judged last, which may be after that
position: such judgements are counted too.
"""

import sqlite3
from typing import Any, NamedTuple
from uuid import UUID

from game.practice_log.queries.entry_order import (
    AFTER_ALL,
    BEFORE_ALL,
    BETWEEN,
    Position,
    bounds,
    newest_position,
)

# A sum of whole moments would not fit into 64 bits.
_MOMENT = "SUM(entry.moment_us & 0xFFFFFFFFFF)"
# Most of it is before that moment, where devices need not be compared: some hundred thousand rows in a few hundredths.
_SHARES = f"""
SELECT device.uuid, SUM(entries), MAX(newest), SUM(moments) FROM (
    SELECT device, COUNT(*) AS entries, MAX(sequence) AS newest, {_MOMENT} AS moments FROM entry
    INDEXED BY entry_by_device
    WHERE player = (SELECT player FROM player WHERE uuid = :player) AND kind <> 'unread' AND moment_us < :upto_us
    GROUP BY device
    UNION ALL
    SELECT entry.device, COUNT(*), MAX(sequence), {_MOMENT} FROM entry JOIN device USING (device)
    WHERE entry.player = (SELECT player FROM player WHERE uuid = :player) AND kind <> 'unread'
        AND moment_us = :upto_us AND (uuid, sequence, at_us) <= (:upto_device, :upto_sequence, :upto_at)
    GROUP BY entry.device
) JOIN device USING (device) GROUP BY device.uuid ORDER BY device.uuid
"""
_JUDGED_LATER = f"""
SELECT COUNT(*), COALESCE({_MOMENT}, 0)
FROM entry CROSS JOIN device USING (device)
CROSS JOIN judgement ON judgement.judgement = entry.row
CROSS JOIN entry AS took ON took.kind = 'take' AND took.row = judgement.take
CROSS JOIN device AS on_device ON on_device.device = took.device
WHERE entry.kind = 'judgement' AND {BETWEEN}
    AND (took.moment_us, on_device.uuid, took.sequence, took.at_us)
        <= (:after_us, :after_device, :after_sequence, :after_at)
"""


class DeviceShare(NamedTuple):
    """What of a log one device recorded: how many entries, up to which of its counts, and a sum of their moments."""

    device: str
    entries: int
    newest: int
    moments: int


class LogCut(NamedTuple):
    """All entries of a player's up to a position. `judged_later` are how many judgements of takes before it came after
    it, and a sum of their moments.
    """

    position: Position = BEFORE_ALL
    shares: tuple[DeviceShare, ...] = ()
    judged_later: tuple[int, int] = (0, 0)


def cut_at(connection: sqlite3.Connection, player: UUID, position: Position) -> LogCut:
    """What stands up to a position now."""
    if position == BEFORE_ALL:
        return LogCut()
    shares = connection.execute(_SHARES, bounds(player, BEFORE_ALL, position))
    later: Any = connection.execute(_JUDGED_LATER, bounds(player, position, AFTER_ALL)).fetchone()
    return LogCut(position, tuple(DeviceShare(*row) for row in shares), tuple(later))


def newest_cut(connection: sqlite3.Connection, player: UUID) -> LogCut:
    """All that there is of a player now."""
    return cut_at(connection, player, newest_position(connection, player))


def stands(connection: sqlite3.Connection, player: UUID, cut: LogCut) -> bool:
    """Whether what was made of these entries still holds."""
    return cut == cut_at(connection, player, cut.position)
