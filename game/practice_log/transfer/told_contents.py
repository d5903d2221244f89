"""What is said of entries that go along in a file: whose, which days, how much, in numbers and in words."""

import sqlite3
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, timedelta

import msgspec

from game import __version__
from game.message import Message, message
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS, columns_of
from game.practice_log.documents.chosen_entries import ChosenEntry, of_numbers
from game.practice_log.rows.entry_rows import Kind, day_of_moment
from game.practice_log.rows.one_player import uuids_of_owner
from game.practice_log.transfer.contents import (
    FORMAT,
    FORMAT_VERSION,
    Contents,
    PractisedDays,
    PractisedMap,
    ToldName,
    Whose,
)
from game.text.catalogue import in_english

_SAYS = "What one player practised with Homefret. Open it with: homefret report --from FOLDER"
_SHARED = ("bars", "neck_map", "asked", "instrument")
_OF_TAKES = ("played", "revised", "help", "name_given")
_OF_JUDGEMENTS = ("verdict", "named", "answer", "event")
_NOTES = frozenset({"source", *_OF_TAKES, "answer"})


def contents_of(
    connection: sqlite3.Connection,
    entries: Sequence[ChosenEntry],
    player: Identity,
    at: datetime,
    *,
    since: date | None = None,
    with_notes: bool = True,
    told_name: ToldName = ToldName.WHOLE,
) -> Contents:
    """What a file says that holds these entries of a player, written `at` a time that knows its zone. The player is
    called as it is said, whatever `told_name`.
    """
    takes = [entry.row for entry in entries if entry.kind == Kind.TAKE.value]
    days = practised_days(connection, takes)
    rows = _rows(connection, entries, takes, with_notes=with_notes)
    select = "SELECT DISTINCT judge FROM judgement WHERE judgement"
    judges = of_numbers(connection, select, _of(entries, Kind.JUDGEMENT))
    contents = Contents(
        format=FORMAT,
        version=FORMAT_VERSION,
        says=_SAYS,
        program=__version__,
        exported_utc=at.astimezone(UTC).isoformat(timespec="seconds"),
        utc_offset_minutes=round((at.utcoffset() or timedelta()).total_seconds() / 60),
        player=Whose(uuid=str(player.uuid), name=player.name),
        same_players=sorted(str(uuid) for uuid in uuids_of_owner(connection) if uuid != player.uuid),
        days=days,
        since=None if since is None else since.isoformat(),
        with_notes=with_notes,
        told_name=told_name.value,
        maps=_maps(connection, takes),
        migrations=[migration.name for migration in MIGRATIONS],
        judges=sorted(judge for (judge,) in judges),
        rows=rows,
        columns={table: columns_of(connection, table) for table in rows},
    )
    return msgspec.structs.replace(contents, holds=in_english(held_in_words(contents)))


def practised_days(connection: sqlite3.Connection, takes: Iterable[int]) -> PractisedDays:
    """The days on which takes were played, each by its own moment and zone."""
    select = f"SELECT moment_us, zone_minutes FROM entry WHERE kind = '{Kind.TAKE.value}' AND row"
    days = sorted({day_of_moment(*row) for row in of_numbers(connection, select, takes)})
    told = [date.fromordinal(day).isoformat() for day in days]
    return PractisedDays(first=told[0] if told else None, last=told[-1] if told else None, practised=len(days))


def held_in_words(contents: Contents) -> Message:
    """How much an export holds, of which days, and whether the notes played are in it."""
    notes = message("export.with_notes" if contents.with_notes else "export.without_notes")
    days, takes = contents.days, contents.rows["take"]
    if days.first is None or days.last is None:
        return message("export.holds_no_takes")
    practised = message("export.days", count=days.practised)
    first, last = date.fromisoformat(days.first), date.fromisoformat(days.last)
    if contents.since is None:
        return message("export.holds", count=takes, days=practised, first=first, last=last, notes=notes)
    since = date.fromisoformat(contents.since)
    return message("export.holds_since", count=takes, days=practised, first=first, last=last, notes=notes, since=since)


def _rows(
    connection: sqlite3.Connection, entries: Sequence[ChosenEntry], takes: Sequence[int], *, with_notes: bool
) -> dict[str, int]:
    """How many rows of each table go along."""
    kinds = Counter(entry.kind for entry in entries)
    asked = _used(connection, "asked", takes)
    rows = {
        "device": len({entry.device for entry in entries}),
        "player": 1,
        **{table: len(_used(connection, table, takes)) for table in _SHARED},
        "asked_note": _count(connection, "asked_note", "asked", asked),
        "take": len(takes),
        "source": len(of_numbers(connection, "SELECT DISTINCT source FROM played WHERE take", takes)),
        **{table: _count(connection, table, "take", takes) for table in _OF_TAKES},
        "judgement": kinds[Kind.JUDGEMENT.value],
        **{table: _count(connection, table, "judgement", _of(entries, Kind.JUDGEMENT)) for table in _OF_JUDGEMENTS},
        "coach_event": kinds[Kind.COACH.value],
        "decision": _count(connection, "decision", "coach_event", _of(entries, Kind.COACH)),
        "fact": kinds[Kind.FACT.value],
        "unread": kinds[Kind.UNREAD.value],
    }
    return rows if with_notes else {table: 0 if table in _NOTES else count for table, count in rows.items()}


def _of(entries: Iterable[ChosenEntry], kind: Kind) -> list[int]:
    return [entry.row for entry in entries if entry.kind == kind.value]


def _used(connection: sqlite3.Connection, table: str, takes: Iterable[int]) -> list[int]:
    return [number for (number,) in of_numbers(connection, f"SELECT DISTINCT {table} FROM take WHERE take", takes)]


def _count(connection: sqlite3.Connection, table: str, column: str, numbers: Iterable[int]) -> int:
    ((count,),) = of_numbers(connection, f"SELECT COUNT(*) FROM {table} WHERE {column}", numbers)
    return int(count)


def _maps(connection: sqlite3.Connection, takes: Iterable[int]) -> list[PractisedMap]:
    used = _used(connection, "neck_map", takes)
    rows = of_numbers(
        connection, "SELECT position, tuning, reading FROM neck_map WHERE neck_map", used, "ORDER BY neck_map"
    )
    return [PractisedMap(position=position, tuning=tuning, read=reading) for position, tuning, reading in rows]
