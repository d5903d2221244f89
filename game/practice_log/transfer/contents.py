"""What an export holds, and what its first member says of it.

The file is a zip. Its first member, `contents.json`, is not packed, so that it can be read even in a text editor: who,
which days, which maps, which versions, how many takes and notes. The other, `entries.jsonl`, holds a document a line
(see `game.practice_log.documents.documents`): takes, what was asked, verdicts, and every played note with its time, so
that takes can be played back. In exports of the first form each further member was a table of the log, a row a line.
"""

from enum import Enum

import msgspec

FORMAT, FORMAT_VERSION = "homefret practice export", 2
TABLES_VERSION = 1
"""Of the form of before, with tables."""

ENDING = ".zip"
CONTENTS, ENTRIES = "contents.json", "entries.jsonl"
LONGEST_LINE = 4_000_000
"""Bytes of a document."""

_OWN = "take IN (SELECT take FROM take WHERE player = :player)"
_OWN_JUDGEMENT = f"judgement IN (SELECT judgement FROM judgement WHERE {_OWN})"
_USED = "{table} IN (SELECT {table} FROM take WHERE player = :player)"
TABLES = {
    "device": "device IN (SELECT device FROM take WHERE player = :player UNION SELECT device FROM coach_event "
    "WHERE player = :player)",
    "player": "player = :player",
    "bars": _USED.format(table="bars"),
    "neck_map": _USED.format(table="neck_map"),
    "asked": _USED.format(table="asked"),
    "asked_note": _USED.format(table="asked"),
    "instrument": _USED.format(table="instrument"),
    "take": "player = :player",
    "source": f"source IN (SELECT source FROM played WHERE {_OWN})",
    "played": _OWN,
    "revised": _OWN,
    "help": _OWN,
    "name_given": _OWN,
    "judgement": _OWN,
    "verdict": _OWN_JUDGEMENT,
    "named": _OWN_JUDGEMENT,
    "answer": _OWN_JUDGEMENT,
    "event": _OWN_JUDGEMENT,
    "coach_event": "player = :player",
    "decision": "coach_event IN (SELECT coach_event FROM coach_event WHERE player = :player)",
}
"""The tables of an export of before, each of which refers only to those before it, and which rows are a player's."""


class ToldName(Enum):
    """How an export calls its player, as it stands in the contents."""

    WHOLE = "whole"
    INITIALS = "initials"
    NONE = "none"


class Whose(msgspec.Struct, frozen=True, kw_only=True):
    """The player."""

    uuid: str
    name: str


class PractisedDays(msgspec.Struct, frozen=True, kw_only=True):
    """The first and the last day practised, as text such as "2026-03-14" (null without takes), and how many."""

    first: str | None
    last: str | None
    practised: int


class PractisedMap(msgspec.Struct, frozen=True, kw_only=True):
    """A map that was read on."""

    position: int
    tuning: str
    read: str


class Contents(msgspec.Struct, frozen=True, kw_only=True):
    """`contents.json`. `holds` says in words what goes along: only what was recorded `since` a day (null for all), and
    whether every played note is in it (`with_notes`). `told_name` is "whole", "initials" or "none": in the last two
    there is no name of a computer or an instrument either, and no signature. `utc_offset_minutes` is the zone of
    whoever exports; each day is told by the zone in which its takes were played. `same_players` are other ids of the
    player. `rows` count the rows of each table that go along and `columns` name the columns of the log, `migrations`
    and `judges` are the versions of the log and of who judged.
    """

    format: str
    version: int
    says: str
    holds: str = ""
    program: str
    exported_utc: str
    utc_offset_minutes: int
    player: Whose
    same_players: list[str] = []
    days: PractisedDays
    since: str | None = None
    with_notes: bool = True
    told_name: str = ToldName.WHOLE.value
    maps: list[PractisedMap]
    migrations: list[str]
    judges: list[int]
    rows: dict[str, int]
    columns: dict[str, list[str]]
