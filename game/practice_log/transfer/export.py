"""A player's log, or a part of it, as one file for the teacher (see `game.practice_log.transfer.contents`)."""

import sqlite3
import zipfile
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.permissions import OWNER_ONLY, share_where_meant
from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.transfer.contents import CONTENTS, ENDING, Contents
from game.practice_log.transfer.told_contents import contents_of
from game.practice_log.transfer.written_zip import write_zip


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """What of a log is exported: what was recorded since a day, all of it where that is None; and whether every played
    note goes along, or only what was made of each.
    """

    since: date | None = None
    with_notes: bool = True


EVERYTHING = Exported()


def write_export(
    connection: sqlite3.Connection, player: Identity, out: Path, *, now: datetime, what: Exported = EVERYTHING
) -> Contents:
    """Write a player's export and return its contents. `now` knows its zone, that of the player.

    An older export of that name is replaced. Raises `LogError` when there is nothing of this player, or `out` cannot
    be written, is no name of a .zip, or is a file of another kind.
    """
    _refuse_to_overwrite(out)
    found = connection.execute("SELECT player FROM player WHERE uuid = ?", (str(player.uuid),)).fetchone()
    since_day = None if what.since is None else what.since.toordinal()
    entries = chosen_entries(connection, Choice(player=found[0], since_day=since_day)) if found else []
    if not entries:
        raise LogError("export.nothing_since" if found and what.since else "export.nothing_yet")
    contents = contents_of(connection, entries, player, now, since=what.since, with_notes=what.with_notes)
    draft = out.with_name(f"{out.name}.part")
    try:
        draft.touch(mode=OWNER_ONLY)
        with draft.open("wb") as file:
            write_zip(file, contents, connection, entries)
        share_where_meant(draft)
        draft.replace(out)
    except OSError as error:
        raise LogError("export.cannot_be_written", file=out, reason=error.strerror or error) from error
    finally:
        draft.unlink(missing_ok=True)
    return contents


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
