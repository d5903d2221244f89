"""What was made from the log, kept beside it so that the next start is quick. It may be thrown away at any time.

A snapshot tells of which entries of whose log it was made, and by which program and numbers: one that does not fit is
left unread, and everything is made from the log again. Besides the newest, some of days before are kept: entries of
long ago that come late, from another device, make those before them no worse.
"""

import hashlib
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple
from uuid import UUID

import msgspec

from game import __version__
from game.coach.numbers import NUMBERS
from game.practice_log.queries.dated_cuts import which_to_keep
from game.practice_log.queries.log_cut import LogCut

_FORM = 10
"""One more whenever anything that is kept gets another structure or meaning, so that no snapshot of before is read as
one of now: 2 since the coach's reasons are messages, 3 since entries have an order of their own, 4 since passages
may be renamed, 5 since a take is one thing to the coach, and a false start none, 6 since notes turn to ink, 7 since a
passage keeps the takes and tempi of its ladder, and may be marked as read, 8 since it keeps how its notes came out
last, and when its rhythm was kept, 9 since pages may be cut anew, and are played within the
whole, 10 since the days on each map are kept.
"""

_ENDING = ".snapshot"
_MOST_BYTES = 100_000_000


class _Snapshot(msgspec.Struct, frozen=True, kw_only=True):
    """A snapshot as it lies in its file. `made` is decoded only where it is used."""

    player: UUID
    made_by: str
    cut: LogCut
    made: msgspec.Raw


class KeptSnapshot(NamedTuple):
    """A snapshot in its file: of what it was made, and what was made, encoded."""

    path: Path
    cut: LogCut
    made: msgspec.Raw


def snapshot_path(folder: Path, name: str) -> Path:
    """Where the newest snapshot of a name lies."""
    return folder / f"{name}{_ENDING}"


def write_snapshot(folder: Path, name: str, state: object, *, player: UUID, cut: LogCut) -> None:
    """Keep what was made of these entries as the newest; the newest so far is kept as one of days before. A disk that
    refuses changes nothing.
    """
    before = _read(snapshot_path(folder, name), player)
    if before is not None and before.cut.position < cut.position:
        with suppress(OSError):
            before.path.replace(_dated_path(folder, name, before.cut))
    _write(snapshot_path(folder, name), state, player, cut)
    _thin(folder, name, player, cut.position.moment_us)


def write_dated_snapshot(folder: Path, name: str, state: object, *, player: UUID, cut: LogCut) -> None:
    """Keep what was made of the entries up to some day before."""
    _write(_dated_path(folder, name, cut), state, player, cut)


def snapshots_of(folder: Path, name: str, *, player: UUID) -> Iterator[KeptSnapshot]:
    """What is kept for a player, the newest first. What does not fit or cannot be read is thrown away."""
    for path in (snapshot_path(folder, name), *_dated_paths(folder, name)):
        kept = _read(path, player)
        if kept is not None:
            yield kept
        else:
            throw_away(path)


def throw_away(path: Path) -> None:
    """Remove a snapshot that holds no more."""
    with suppress(OSError):
        path.unlink(missing_ok=True)


def _thin(folder: Path, name: str, player: UUID, newest_us: int) -> None:
    dated = [(path, _read(path, player)) for path in _dated_paths(folder, name)]
    moments = [kept.cut.position.moment_us for _, kept in dated if kept is not None]
    keep = which_to_keep((us for us in moments if us < newest_us), newest_us)
    for path, kept in dated:
        if kept is None or kept.cut.position.moment_us not in keep:
            throw_away(path)


def _dated_path(folder: Path, name: str, cut: LogCut) -> Path:
    return folder / f"{name}.{cut.position.moment_us:020}{_ENDING}"


def _dated_paths(folder: Path, name: str) -> list[Path]:
    """The newest first."""
    return sorted(folder.glob(f"{name}.*{_ENDING}"), reverse=True)


def _write(path: Path, state: object, player: UUID, cut: LogCut) -> None:
    draft = path.with_name(f"{path.name}.{os.getpid()}.unfinished")
    made = msgspec.Raw(msgspec.msgpack.encode(state))
    with suppress(OSError):
        draft.write_bytes(msgspec.msgpack.encode(_Snapshot(player=player, made_by=_MADE_BY, cut=cut, made=made)))
        draft.replace(path)


def _read(path: Path, player: UUID) -> KeptSnapshot | None:
    try:
        with path.open("rb") as file:
            content = file.read(_MOST_BYTES + 1)
        kept = msgspec.msgpack.decode(content, type=_Snapshot)
    except (OSError, msgspec.MsgspecError, ValueError, RecursionError):
        return None
    if (kept.player, kept.made_by) != (player, _MADE_BY):
        return None
    return KeptSnapshot(path, kept.cut, kept.made)


def _fingerprint() -> str:
    """The program, the form of what is kept, and the coach's numbers: other numbers make other states."""
    return f"{__version__} {_FORM} {hashlib.sha256(repr(NUMBERS).encode()).hexdigest()[:16]}"


_MADE_BY = _fingerprint()
