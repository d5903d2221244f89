"""What was made from the log, kept beside it so that the next start is quick. It may be thrown away at any time.

A snapshot tells up to which entry of which log it goes, for which player, and by which program and numbers it was
made: one that does not fit is left unread, and everything is made from the log again.
"""

import hashlib
import os
from contextlib import suppress
from pathlib import Path
from typing import Generic, TypeVar
from uuid import UUID

import msgspec

from game import __version__
from game.coach.numbers import NUMBERS
from game.practice_log.queries.log_position import LogPosition

State = TypeVar("State")

_FORM = 2
"""One more whenever anything that is kept gets another structure or meaning, so that no snapshot of before is read as
one of now: 2 since the coach's reasons are messages.
"""

_MOST_BYTES = 100_000_000


class _Snapshot(msgspec.Struct, Generic[State], frozen=True, kw_only=True):
    """A snapshot as it lies in its file."""

    player: UUID
    made_by: str
    upto: LogPosition
    made: State


def write_snapshot(path: Path, state: object, *, player: UUID, upto: LogPosition) -> None:
    """Keep what was made of a player's log up to its entry `upto`. A disk that refuses changes nothing."""
    draft = path.with_name(f"{path.name}.{os.getpid()}.unfinished")
    with suppress(OSError):
        draft.write_bytes(msgspec.msgpack.encode(_Snapshot(player=player, made_by=_MADE_BY, upto=upto, made=state)))
        draft.replace(path)


def read_snapshot(path: Path, kind: type[State], *, player: UUID) -> tuple[State, LogPosition] | None:
    """What was kept for a player, and up to which entry it goes; None where nothing fits or can be read."""
    try:
        with path.open("rb") as file:
            content = file.read(_MOST_BYTES + 1)
        kept = msgspec.msgpack.decode(content, type=_Snapshot[kind])  # type: ignore[valid-type]
    except (OSError, msgspec.MsgspecError, ValueError, RecursionError):
        return None
    if (kept.player, kept.made_by) != (player, _MADE_BY):
        return None
    return kept.made, kept.upto


def _fingerprint() -> str:
    """The program, the form of what is kept, and the coach's numbers: other numbers make other states."""
    return f"{__version__} {_FORM} {hashlib.sha256(repr(NUMBERS).encode()).hexdigest()[:16]}"


_MADE_BY = _fingerprint()
