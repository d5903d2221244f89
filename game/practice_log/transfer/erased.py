"""Marks of players who were erased: in a folder of logs, one file for each, by which nothing of them is taken in again.

A mark holds no name, and of the player's id only its SHA-256 (FIPS 180-4), by which nobody finds the id who does not
know it. Each is a file of its own, so that computers that share a folder never write the same one differently.
"""

import hashlib
import json
from collections.abc import Iterable
from contextlib import suppress
from datetime import date
from pathlib import Path
from uuid import UUID

from game.practice_log.database.permissions import share_as_folder

_PLAYERS = "players"

MARKS = "erased-*.json"
"""How the names of the marks look."""


def is_erased(folder: Path, player: UUID) -> bool:
    """Whether a player was erased from a folder: one that is shared, or one of this computer, where a mark counts for
    the folders of all its players.
    """
    return erased_mark(folder, player) is not None


def erased_mark(folder: Path, player: UUID) -> Path | None:
    """The file that says so; None where none does."""
    marks = (place / mark_name(player) for place in _places(folder))
    return next((mark for mark in marks if mark.exists()), None)


def mark_erased(folder: Path, players: Iterable[UUID], day: date) -> None:
    """Leave a mark for each of these ids. One that is there already stays. Raises `OSError`."""
    for player in players:
        mark = folder / mark_name(player)
        if not mark.exists():
            draft = mark.with_suffix(".unfinished")
            content = json.dumps({"erased": player_hash(player), "day": day.isoformat()}) + "\n"
            try:
                draft.write_text(content, encoding="ascii")
                share_as_folder(draft)
                draft.replace(mark)
            except OSError:
                with suppress(OSError):
                    draft.unlink(missing_ok=True)
                raise


def mark_name(player: UUID) -> str:
    """How the file of a player's mark is called."""
    return f"erased-{player_hash(player)}.json"


def is_mark(path: Path) -> bool:
    """Whether a file is one of these marks, by its name."""
    return path.match(MARKS)


def hash_in_mark(name: str) -> str:
    """The `player_hash` that the name of a mark holds."""
    return name.removeprefix("erased-").removesuffix(".json")


def player_hash(player: UUID) -> str:
    """The SHA-256 of a player's id, in hexadecimal digits (FIPS 180-4)."""
    return hashlib.sha256(str(player).encode("ascii")).hexdigest()


def _places(folder: Path) -> tuple[Path, ...]:
    """Where marks for a folder lie: those for a player's own lie beside the table of all players."""
    return (folder, folder.parents[1]) if folder.parent.name == _PLAYERS else (folder,)
