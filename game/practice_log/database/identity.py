"""Who plays, and on which computer: ids that stay unique when logs are merged, each in a small file beside the log.

What cannot be read is never written over: it is laid aside.
"""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar
from uuid import UUID, uuid4

import msgspec

PLAYER_FILE, DEVICE_FILE = "player.json", "device.json"

_MOST_BYTES = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """A player or a device. `name` is for people and may be empty; `uuid` (RFC 9562) is what counts."""

    uuid: UUID
    name: str = ""


Kind = TypeVar("Kind", bound=Identity)


def read_identity(path: Path, kind: type[Kind]) -> Kind | None:
    """The identity in a file; None where there is none that can be read."""
    try:
        if not path.is_file():
            return None
        with path.open("rb") as file:
            return msgspec.json.decode(file.read(_MOST_BYTES), type=kind)
    except (OSError, ValueError, RecursionError):
        return None


def write_identity(path: Path, identity: Identity) -> None:
    """Put an identity in the place of the one in its file; a file that cannot be read is laid aside, as
    `player.json.broken-<time>`. A crash leaves the old file or the new one. Raises `OSError`.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_name(f"{path.name}.{uuid4()}")
    try:
        draft.touch(mode=0o600)
        draft.write_bytes(msgspec.json.encode(identity))
        if path.exists() and read_identity(path, type(identity)) is None:
            path.rename(path.with_name(f"{path.name}.broken-{datetime.now(UTC):%Y%m%dT%H%M%S%f}"))
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
