"""What one computer writes into the folder that a player's computers share (`shared_folder`), and nothing else of it.

What this device recorded goes into one file a month. A month that is over is written once and for good; what came since
stands in a file that is replaced whole. What is in the log of devices that have no files of their own there, or not all
of it, such as a computer that is gone, goes along in files of their own.
"""

import hashlib
import io
import json
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.documents.chosen_entries import Choice, ChosenEntry, chosen_entries, with_takes
from game.practice_log.rows.entry_rows import time_of
from game.practice_log.transfer.erased import is_erased
from game.practice_log.transfer.files_to_gather import hash_in_name
from game.practice_log.transfer.shared_folder import (
    OPEN_FILE,
    OTHERS_PREFIX,
    closed_name,
    device_folder,
    devices_there,
    drafts_in,
    make_folders,
    others_name,
    put_in_place,
    shared_files,
    slot_of,
)
from game.practice_log.transfer.told_contents import contents_of
from game.practice_log.transfer.written_zip import write_zip

_STATE_FILE = "written.json"
_NOTHING, _EVERYTHING = -(2**62), 2**62
"""A count below all others: those of old logs are negative."""
_MOST_BYTES = 1_000_000


class _Written(msgspec.Struct, kw_only=True):
    """What this device has written there: months that are over hold its entries up to the count `closed`; the open file
    those up to `open`; and of other devices, how many entries of each.
    """

    closed: int = _NOTHING
    open: int = _NOTHING
    others: dict[str, int] = msgspec.field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """Who shares what: a player's log, through a folder, as one device."""

    log: Path
    folder: Path
    player: Identity
    device: UUID

    @property
    def own_folder(self) -> Path:
        """Where this device writes."""
        return device_folder(self.folder, self.player.uuid, self.device)


def write_share(sharing: Sharing, *, now: datetime) -> int:
    """Write what is new, and return how many files were written. Not to be called during a take: what is still being
    played stands in the next. Raises `LogError` for a folder that is not there, or cannot be written, or from which the
    player was erased.
    """
    if not sharing.folder.is_dir():
        raise LogError("share.no_folder", folder=sharing.folder)
    if is_erased(sharing.folder, sharing.player.uuid):
        raise LogError("share.erased_there", folder=sharing.folder)
    try:
        with closing(open_store(sharing.log, now_utc=now)) as connection:
            return _Writing(sharing, connection, now).write()
    except OSError as error:
        raise LogError("share.cannot_be_written", folder=sharing.folder, reason=reason_of(error)) from error
    except sqlite3.Error as error:
        raise LogError("log.unreadable", fault=reason_of(error)) from error


class _Writing:
    """One time of writing."""

    def __init__(self, sharing: Sharing, connection: sqlite3.Connection, now: datetime) -> None:
        self._sharing, self._connection, self._now = sharing, connection, now
        self._into = sharing.own_folder
        self._files = 0

    def write(self) -> int:
        written = self._read_state()
        before = msgspec.json.encode(written)
        self._write_own(written)
        self._write_others(written)
        if msgspec.json.encode(written) != before:
            self._put(_STATE_FILE, msgspec.json.encode(written))
            self._clear_drafts()
        return self._files

    def _write_own(self, written: _Written) -> None:
        """Months that are over, and then the open file, which never lacks what a closed one does not hold yet."""
        left = [entry for entry in self._entries_of(self._sharing.device) if entry.sequence > written.closed]
        over, still_open = _divided(left, month_of(self._now))
        for month, entries in over:
            self._put_zip(partial(closed_name, month), entries)
            written.closed = entries[-1].sequence
        newest = still_open[-1].sequence if still_open else written.closed
        if over or newest != written.open:
            if still_open:
                self._put_zip(lambda digest: OPEN_FILE, still_open)  # noqa: ARG005 - its name says nothing of it
            else:
                (self._into / OPEN_FILE).unlink(missing_ok=True)
            written.open = newest

    def _write_others(self, written: _Written) -> None:
        """All of devices that have no files of their own there, and of the others what their files lack: of a computer
        that broke down, or was given another id, before it had written what it recorded last.
        """
        there = devices_there(self._sharing.folder, self._sharing.player.uuid)
        hold, goes_along = highest_counts(self._connection, self._sharing), self._held_for_others()
        counts = self._connection.execute(
            "SELECT uuid, COUNT(*), MAX(sequence) FROM entry JOIN device USING (device) GROUP BY uuid"
        )
        for uuid, count, highest in counts.fetchall():
            device = UUID(uuid)
            after = hold.get(uuid, _NOTHING) if device in there else _NOTHING
            if device == self._sharing.device or after == _EVERYTHING:
                continue
            if uuid not in written.others and uuid in goes_along and goes_along[uuid] >= count:
                # Another computer has put all of it there: once is enough.
                continue
            if highest > after and written.others.get(uuid) != count:
                entries = [entry for entry in self._entries_of(device) if entry.sequence > after]
                self._clear_others(device, self._put_zip(partial(others_name, device), entries))
                written.others[uuid] = count
            elif highest <= after and written.others.pop(uuid, None) is not None:
                self._clear_others(device, "")

    def _held_for_others(self) -> dict[str, int]:
        """How many entries of each device stand in files that others keep for it, as far as they were gathered."""
        hold: dict[str, int] = {}
        for file in shared_files(self._sharing.folder, [self._sharing.player.uuid]):
            if file.name.startswith(OTHERS_PREFIX) and file.parent != self._into:
                for device, (count, _) in _holds(self._connection, self._sharing, file).items():
                    hold[device] = max(count, hold.get(device, 0))
        return hold

    def _clear_others(self, device: UUID, kept: str) -> None:
        for older in self._into.glob(f"{OTHERS_PREFIX}{device}-*.zip"):
            if older.name != kept:
                older.unlink(missing_ok=True)

    def _entries_of(self, device: UUID) -> list[ChosenEntry]:
        found = self._connection.execute("SELECT device FROM device WHERE uuid = ?", (str(device),)).fetchone()
        chosen = chosen_entries(self._connection, Choice(device=found[0], with_takes=True)) if found else []
        return [entry for entry in chosen if entry.device == str(device)]

    def _put_zip(self, named: Callable[[str], str], entries: Sequence[ChosenEntry]) -> str:
        """The same entries give the same file: what it says of itself is of the time of the last of them. Takes of
        other devices that were judged on this one go along: without them a judgement tells nobody anything.
        """
        at = time_of(max(entry.at_us for entry in entries))
        entries = with_takes(self._connection, entries)
        content = io.BytesIO()
        write_zip(content, contents_of(self._connection, entries, self._sharing.player, at), self._connection, entries)
        name = named(hashlib.sha256(content.getvalue()).hexdigest())
        if name == OPEN_FILE or not (self._into / name).exists():
            self._put(name, content.getvalue())
        return name

    def _put(self, name: str, content: bytes) -> None:
        make_folders(self._into)
        draft = self._into / f".{name}.unfinished"
        draft.write_bytes(content)
        put_in_place(draft, self._into / name)
        self._files += 1

    def _read_state(self) -> _Written:
        with suppress(OSError, msgspec.MsgspecError, ValueError), (self._into / _STATE_FILE).open("rb") as file:
            return msgspec.json.decode(file.read(_MOST_BYTES), type=_Written)
        return _Written()

    def _clear_drafts(self) -> None:
        with suppress(OSError):
            for draft in drafts_in(self._into):
                draft.unlink(missing_ok=True)


def highest_counts(connection: sqlite3.Connection, sharing: Sharing) -> dict[str, int]:
    """Up to which of its counts each device's own files in the folder hold what it recorded. Where one of them was not
    gathered yet nobody knows, and it may hold everything.
    """
    hold: dict[str, int] = {}
    for file in shared_files(sharing.folder, [sharing.player.uuid]):
        device, held = file.parent.name, _holds(connection, sharing, file, unknown=_EVERYTHING)
        hold[device] = max(held.get(device, (0, _NOTHING))[1], hold.get(device, _NOTHING))
    return hold


def _holds(
    connection: sqlite3.Connection, sharing: Sharing, file: Path, *, unknown: int | None = None
) -> dict[str, tuple[int, int]]:
    """How many entries of each device a file holds, and the highest of their counts. Of one that was not gathered yet
    nobody knows: then `unknown` stands for the highest of whoever wrote it.
    """
    name = slot_of(sharing.folder, file) or hash_in_name(file)
    found = connection.execute("SELECT holds FROM taken_in WHERE name = ?", (name,)).fetchone()
    if found is None:
        return {} if unknown is None else {file.parent.name: (0, unknown)}
    return {device: (count, highest) for device, (count, highest) in json.loads(found[0])["devices"].items()}


def month_of(at: datetime) -> str:
    """The month of a time, in UTC, as "2026-11": the same for all computers."""
    return f"{at.astimezone(UTC):%Y-%m}"


def _divided(
    entries: Sequence[ChosenEntry], this_month: str
) -> tuple[list[tuple[str, list[ChosenEntry]]], list[ChosenEntry]]:
    """Entries in the order of their counts as months that are over, each once and in order, and what is left. Where a
    clock was wrong for a while, what was recorded meanwhile goes with the month before it.
    """
    months = [month_of(time_of(entry.at_us)) for entry in entries]
    over = max((index for index, month in enumerate(months, start=1) if month < this_month), default=0)
    labels, label = [], ""
    for month in months[:over]:
        label = max(label, month) if month < this_month else label or min(months[:over])
        labels.append(label)
    groups = groupby(zip(labels, entries, strict=False), key=itemgetter(0))
    return [(month, [entry for _, entry in group]) for month, group in groups], list(entries[over:])
