"""Who plays, and on which computer: ids that stay unique when logs are merged.

The id of a device is kept beside the log, not in it: a log restored on another computer must not take the first
one's id along.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID, uuid4


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """A player or a device. `name` is for people and may be empty; `uuid` (RFC 9562) is what counts."""

    uuid: UUID
    name: str = ""


def read_or_make_identity(path: Path, *, name: str = "", new_uuid: Callable[[], UUID] = uuid4) -> Identity:
    """The identity kept in `path`, made with `name` where there is none that can be read.

    Two programs that make it at once agree on the first. Where the file cannot be written the identity holds for
    this run only.
    """
    kept = _kept(path)
    if kept is not None:
        return kept
    made = Identity(uuid=new_uuid(), name=name)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        return _put(made, path)
    except OSError:
        return made


def _put(made: Identity, path: Path) -> Identity:
    """Put a new identity in place, or give the one that another program put there just before."""
    text = json.dumps({"uuid": str(made.uuid), "name": made.name}, ensure_ascii=False)
    draft = path.with_name(f"{path.name}.{made.uuid}")
    draft.write_text(text, encoding="utf-8")
    try:
        path.hardlink_to(draft)  # never replaces, and never shows half a file
    except OSError:
        # There is a file already, or the disk knows no links.
        kept = _kept(path)
        if kept is not None:
            return kept
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
    return made


def _kept(path: Path) -> Identity | None:
    try:
        fields = json.loads(path.read_text(encoding="utf-8"))
        return Identity(uuid=UUID(fields["uuid"]), name=str(fields["name"]))
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None
