"""Which device this is: a computer and a folder on it, by an id kept beside the log.

Not in the log, for a log that is restored elsewhere must not take the first one's id along; and bound to the computer
and the folder, for a copy of the whole folder must not either: what two devices record would be told apart no longer.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID, uuid4

from game.practice_log.database.identity import DEVICE_FILE, Identity, read_identity, write_identity
from game.practice_log.database.machine import folder_hash, machine_hash

# A home on a network is used at many computers in turn: each finds its own id again.
_MOST_BEFORE = 100
# Programs that begin at once make identities one after the other, in moments.
_WAIT_S = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BoundDevice(Identity):
    """A device, and the computer and folder that it is; empty where nobody knows."""

    machine: str = ""
    folder: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnDevice(BoundDevice):
    """The device that runs. `before` are those that its folder was, or is while it lies elsewhere, the last one first:
    takes that were cut short on them are judged here.
    """

    before: tuple[BoundDevice, ...] = ()

    @property
    def uuids(self) -> tuple[UUID, ...]:
        """All ids that this folder ever had."""
        return (self.uuid, *(one.uuid for one in self.before))


def own_device(folder: Path) -> OwnDevice:
    """The computer with this folder, by the id it always had; by a new one where its file is of another computer or
    folder, of nobody knows which, or cannot be read. Where it cannot be written the id holds for this run only.
    """
    place = (machine_hash(), folder_hash(folder))
    kept = read_identity(folder / DEVICE_FILE, OwnDevice)
    if kept is not None and _place(kept) == place:
        return kept
    with one_at_a_time(folder):
        kept = read_identity(folder / DEVICE_FILE, OwnDevice)
        if kept is not None and _place(kept) == place:
            return kept
        known = _all(kept)
        uuid = next((one.uuid for one in known if _place(one) == place), None) or uuid4()
        return _written(folder, uuid, [one for one in known if one.uuid != uuid])


def new_device(folder: Path) -> OwnDevice:
    """The same device by a new id in any case: after the log was put back to what it was before, for what was recorded
    since was counted by the old one.
    """
    with one_at_a_time(folder):
        known = _all(read_identity(folder / DEVICE_FILE, OwnDevice))
        # Bound nowhere, so that none of them is ever found again.
        return _written(folder, uuid4(), [BoundDevice(uuid=one.uuid) for one in known])


@contextmanager
def one_at_a_time(folder: Path) -> Iterator[None]:
    """Whoever makes identities in a folder does so alone, and reads again what another may just have made. Where
    nothing can be locked it goes on without.
    """
    lock, connection = folder / "identity.lock", None
    with suppress(sqlite3.Error, OSError):
        folder.mkdir(parents=True, exist_ok=True)
        connection = sqlite3.connect(lock, timeout=_WAIT_S, isolation_level=None)
        connection.execute("BEGIN EXCLUSIVE")
    try:
        yield
    finally:
        if connection is not None:
            connection.close()
            # Whoever waits for this very file finds by then what was made.
            with suppress(OSError):
                lock.unlink(missing_ok=True)


def _all(kept: OwnDevice | None) -> tuple[BoundDevice, ...]:
    """What a file knows of, the device that it was last first."""
    if kept is None:
        return ()
    return (BoundDevice(uuid=kept.uuid, name=kept.name, machine=kept.machine, folder=kept.folder), *kept.before)


def _written(folder: Path, uuid: UUID, before: Iterable[BoundDevice]) -> OwnDevice:
    machine, lies_in = machine_hash(), folder_hash(folder)
    device = OwnDevice(uuid=uuid, machine=machine, folder=lies_in, before=tuple(before)[:_MOST_BEFORE])
    with suppress(OSError):
        write_identity(folder / DEVICE_FILE, device)
    return device


def _place(device: BoundDevice) -> tuple[str, str]:
    return device.machine, device.folder
