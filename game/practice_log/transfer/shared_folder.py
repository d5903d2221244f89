"""A folder of the player's choosing that their computers share, synced by whatever they use: which it is, and what lies
where in it.

    FOLDER/homefret/PLAYER/DEVICE/2026-11-0123456789abcdef.zip     a month that is over: never changed
    FOLDER/homefret/PLAYER/DEVICE/open.zip                         what came since: replaced whole
    FOLDER/homefret/PLAYER/DEVICE/of-DEVICE-0123456789abcdef.zip   of another device that has no files of its own there
    FOLDER/homefret/assignments/*.toml                             what a teacher sets for everybody who shares there
    FOLDER/homefret/PLAYER/assignments/*.toml                      what they set for one player

PLAYER and DEVICE are ids. Each computer writes into the folder of its own device only. The log itself never lies there:
what is synced while it is written comes apart.
"""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.practice_log.database.permissions import share_as_folder
from game.text.clean_text import has_ending

SHARED_FILE = "shared-folder.json"
"""Beside the log: which folder it is, for this computer alone."""

OPEN_FILE, OTHERS_PREFIX, ENDING = "open.zip", "of-", ".zip"
ASSIGNMENTS = "assignments"
MOST_ASSIGNMENT_FILES = 200
"""Of more in one folder, those with the last names are passed over (ours: four years of one a week)."""
_OURS = "homefret"
_MOST_BYTES = 10_000


class _Kept(msgspec.Struct, frozen=True, kw_only=True):
    folder: str


def shared_folder(beside: Path) -> Path | None:
    """The folder that the log in the folder `beside` is shared through; None where it is not, or nobody can read it."""
    with suppress(OSError, msgspec.MsgspecError, ValueError):
        with (beside / SHARED_FILE).open("rb") as file:
            kept = msgspec.json.decode(file.read(_MOST_BYTES), type=_Kept).folder
        return Path(kept) if kept else None
    return None


def remember_shared(beside: Path, folder: Path | None) -> None:
    """Share the log through a folder from now on, or (None) no longer: what lies there stays. Raises `LogError` for one
    that is none, or is where the log lies.
    """
    kept = beside / SHARED_FILE
    try:
        if folder is None:
            kept.unlink(missing_ok=True)
            return
        if not folder.is_dir():
            raise LogError("share.no_folder", folder=folder)
        chosen = folder.resolve()
        if chosen == beside.resolve() or beside.resolve() in chosen.parents:
            raise LogError("share.where_the_log_lies", folder=folder)
        draft = kept.with_suffix(".unfinished")
        draft.write_bytes(msgspec.json.encode(_Kept(folder=str(chosen))))
        draft.replace(kept)
    except OSError as error:
        raise LogError("share.cannot_be_kept", folder=folder or kept, reason=reason_of(error)) from error


def player_folder(folder: Path, player: UUID) -> Path:
    """Where the files of all devices of a player lie."""
    return folder / _OURS / str(player)


def device_folder(folder: Path, player: UUID, device: UUID) -> Path:
    """Where one device writes, and nobody else."""
    return player_folder(folder, player) / str(device)


def players_there(folder: Path) -> tuple[UUID, ...]:
    """Who shares through a folder. Raises `OSError`."""
    ours = folder / _OURS
    found = (_uuid(path.name) for path in ours.iterdir() if path.is_dir()) if ours.is_dir() else ()
    return tuple(sorted(uuid for uuid in found if uuid is not None))


def devices_there(folder: Path, player: UUID) -> tuple[UUID, ...]:
    """Which devices of a player have files of their own there. Raises `OSError`."""
    theirs = player_folder(folder, player)
    found = (_uuid(path.name) for path in theirs.iterdir() if path.is_dir()) if theirs.is_dir() else ()
    return tuple(sorted(uuid for uuid in found if uuid is not None))


def shared_files(folder: Path, players: Iterable[UUID]) -> tuple[Path, ...]:
    """The files there are of a player, who may be known by several ids, in an order that is always the same. What a
    sync leaves beside them (half of a file under another name, a second copy) is passed over. Raises `OSError`.
    """
    return tuple(
        path
        for player in sorted(players)
        for device in devices_there(folder, player)
        for path in sorted(device_folder(folder, player, device).iterdir())
        if is_shared_file(path)
    )


def assignment_files(folder: Path, players: Iterable[UUID]) -> tuple[Path, ...]:
    """The assignments that lie there for a player, who may be known by several ids: those for everybody first, each in
    the order of its name. What cannot be looked at is passed over: nothing there is ever run, or read here.
    """
    ours = folder / _OURS / ASSIGNMENTS
    theirs = (player_folder(folder, player) / ASSIGNMENTS for player in sorted(players))
    return tuple(file for one in (ours, *theirs) for file in _named_toml(one))


def _named_toml(folder: Path) -> list[Path]:
    with suppress(OSError):
        named = (path for path in folder.iterdir() if has_ending(path, ".toml") and path.name[0] != ".")
        return sorted(named)[:MOST_ASSIGNMENT_FILES]
    return []


def slot_of(folder: Path, file: Path) -> str | None:
    """Of a file that is written anew again and again, by what it is known in what was gathered; None for any other."""
    return f"{folder}/{file.relative_to(folder)}" if file.name == OPEN_FILE else None


def is_shared_file(path: Path) -> bool:
    """Whether a file is one of ours, by its name: nothing else is ever opened."""
    name = path.name
    if name == OPEN_FILE:
        return True
    stem, ending = name[: -len(ENDING)], name[-len(ENDING) :]
    head, _, digest = stem.rpartition("-")
    if ending != ENDING or len(digest) != _DIGITS or not _is_hex(digest):
        return False
    return _is_month(head) or (head.startswith(OTHERS_PREFIX) and _uuid(head[len(OTHERS_PREFIX) :]) is not None)


def closed_name(month: str, digest: str) -> str:
    """How the file of a month is called, by the SHA-256 of what is in it."""
    return f"{month}-{digest[:_DIGITS]}{ENDING}"


def others_name(device: UUID, digest: str) -> str:
    """How the file of another device is called."""
    return f"{OTHERS_PREFIX}{device}-{digest[:_DIGITS]}{ENDING}"


def make_folders(folder: Path) -> None:
    """Make a folder there and those above it, for whoever the one above is for. Raises `OSError`."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(missing):
        one.mkdir(exist_ok=True)
        with suppress(OSError):
            one.chmod(one.parent.stat().st_mode & 0o7777)


def put_in_place(draft: Path, path: Path) -> None:
    """A file that was written beside it takes its place at once, for whoever its folder is for. Raises `OSError`."""
    share_as_folder(draft)
    draft.replace(path)


_DIGITS = 16
_MONTH_LENGTH = 7


def _is_month(text: str) -> bool:
    return len(text) == _MONTH_LENGTH and text[4] == "-" and text.replace("-", "").isdigit()


def _is_hex(text: str) -> bool:
    return all(letter in "0123456789abcdef" for letter in text)


def _uuid(text: str) -> UUID | None:
    with suppress(ValueError):
        uuid = UUID(text)
        return uuid if str(uuid) == text else None
    return None


def drafts_in(folder: Path) -> Iterator[Path]:
    """What was begun there and never came to an end. Raises `OSError`."""
    return (path for path in folder.iterdir() if path.name.endswith(".unfinished"))
