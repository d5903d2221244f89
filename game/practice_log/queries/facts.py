"""What a player said, chose and met: the facts of their log, in the order of everything.

A fact that was gathered may hold anything. What cannot be read is passed over here; whoever asks for facts about
something passes over what makes no sense to them. It stays in the log all the same.
"""

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

import msgspec

from game.practice_log.queries.entry_order import ORDER
from game.practice_log.rows.entry_rows import About

MOST_BYTES = 1_000_000
"""No fact of ours is as long: the longest are assignments, of a hundred kilobytes."""

_FACTS = f"""
SELECT fact.about, CAST(fact.content AS BLOB), entry.moment_us, device.uuid
FROM fact JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact JOIN device USING (device)
WHERE fact.about IN ({{about}}) AND LENGTH(fact.content) <= ?
    AND entry.player = (SELECT player FROM player WHERE uuid = ?)
ORDER BY {ORDER}
"""


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that was said at a moment (microseconds since 1970, UTC) on a device, known by its id as it stands."""

    about: About
    content: dict[str, Any]
    moment_us: int
    device: str


def facts_about(connection: sqlite3.Connection, player: UUID, *about: About) -> Iterator[Fact]:
    """All that was said about these things, whatever was said last at the end."""
    statement = _FACTS.format(about=", ".join("?" * len(about)))
    values = (*(one.value for one in about), MOST_BYTES, str(player))
    for one, raw, moment_us, device in connection.execute(statement, values):
        content = fact_content(raw)
        if content is not None:
            yield Fact(About(one), content, moment_us, device)


def fact_content(raw: bytes) -> dict[str, Any] | None:
    """The table that a fact is; None for anything else."""
    try:
        content = msgspec.json.decode(raw)
    except (msgspec.MsgspecError, ValueError, RecursionError):
        return None
    return content if isinstance(content, dict) else None
