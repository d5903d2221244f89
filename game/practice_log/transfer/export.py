"""A player's log, or a part of it, as one file for the teacher (see `game.practice_log.transfer.contents`)."""

import sqlite3
import zipfile
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from game.errors import LogError, reason_of
from game.practice_log.database.identity import Identity
from game.practice_log.database.permissions import OWNER_ONLY, share_where_meant
from game.practice_log.documents.chosen_entries import Choice, ChosenEntry, chosen_entries, of_numbers
from game.practice_log.documents.nameless_entries import nameless_entries, without_unread
from game.practice_log.rows.entry_rows import About, Kind
from game.practice_log.transfer.contents import CONTENTS, ENDING, Contents, ToldName
from game.practice_log.transfer.told_contents import contents_of
from game.practice_log.transfer.written_zip import write_zip
from game.text.initials import initials


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """What of a log is exported: what was recorded since a day, all of it where that is None; whether every played note
    goes along, or only what was made of each; and how the player is called in it.
    """

    since: date | None = None
    with_notes: bool = True
    told_name: ToldName = ToldName.WHOLE


EVERYTHING = Exported()


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportPlan:
    """An export as it would be: what it says of itself, its entries, and whether texts of assignments are in it."""

    contents: Contents
    entries: tuple[ChosenEntry, ...]
    has_assignments: bool


def planned_export(
    connection: sqlite3.Connection, player: Identity, out: Path, *, now: datetime, what: Exported = EVERYTHING
) -> ExportPlan:
    """What would go into a player's export; nothing is written. `now` knows its zone, that of the player. Raises
    `LogError` when there is nothing of this player, or `out` is no name of a .zip, or a file of another kind.
    """
    _refuse_to_overwrite(out)
    found = connection.execute("SELECT player FROM player WHERE uuid = ?", (str(player.uuid),)).fetchone()
    since_day = None if what.since is None else what.since.toordinal()
    entries = chosen_entries(connection, Choice(player=found[0], since_day=since_day)) if found else []
    if what.told_name is not ToldName.WHOLE:
        player = Identity(uuid=player.uuid, name=initials(player.name) if what.told_name is ToldName.INITIALS else "")
        entries = nameless_entries(connection, entries)
    elif not what.with_notes:
        entries = without_unread(entries)
    if not entries:
        raise LogError("export.nothing_since" if found and what.since else "export.nothing_yet")
    contents = contents_of(
        connection,
        entries,
        player,
        now,
        since=what.since,
        with_notes=what.with_notes,
        told_name=what.told_name,
    )
    facts = [entry.row for entry in entries if entry.kind == Kind.FACT.value]
    about = of_numbers(connection, "SELECT DISTINCT about FROM fact WHERE fact", facts)
    return ExportPlan(contents=contents, entries=tuple(entries), has_assignments=(About.ASSIGNMENT.value,) in about)


def write_export(
    connection: sqlite3.Connection, player: Identity, out: Path, *, now: datetime, what: Exported = EVERYTHING
) -> Contents:
    """Write a player's export as it is planned and return its contents.

    An older export of that name is replaced. Raises `LogError` as `planned_export` does, or when `out` cannot be
    written.
    """
    return write_planned(connection, planned_export(connection, player, out, now=now, what=what), out)


def write_planned(connection: sqlite3.Connection, plan: ExportPlan, out: Path) -> Contents:
    """Write an export that was told before, and return its contents. Raises `LogError` when `out` cannot be written."""
    draft = out.with_name(f"{out.name}.part")
    try:
        draft.touch(mode=OWNER_ONLY)
        with draft.open("wb") as file:
            write_zip(file, plan.contents, connection, plan.entries)
        share_where_meant(draft)
        draft.replace(out)
    except OSError as error:
        raise LogError("export.cannot_be_written", file=out, reason=reason_of(error)) from error
    finally:
        draft.unlink(missing_ok=True)
    return plan.contents


def _refuse_to_overwrite(out: Path) -> None:
    """Whoever mistypes a name must not lose their log, or anything else, by it."""
    if out.suffix.lower() != ENDING:
        raise LogError("export.no_zip_name", file=out, ending=ENDING)
    if not out.exists():
        return
    try:
        with zipfile.ZipFile(out) as archive:
            ours = CONTENTS in archive.namelist()
    except (OSError, zipfile.BadZipFile):
        ours = False
    if not ours:
        raise LogError("export.already_there", file=out)
