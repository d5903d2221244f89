"""What is made of the practice log by going through its entries in order, and kept beside it for the next start.

Years of practice take a while. Where too much has to be gone through at once, what the newest entries tell serves for
now, and a process of its own goes through all of them: `python -m game.player.log_fold FOLDER NAME`. What it made is
found beside the log when it has ended, and what came in between is added as at any start.
"""

import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any, Generic, TypeVar
from uuid import UUID

import msgspec

from game.player.background_process import BackgroundProcess
from game.player.snapshots import (
    snapshot_path,
    snapshots_of,
    throw_away,
    write_dated_snapshot,
    write_snapshot,
)
from game.practice_log.database.opening import opened_log
from game.practice_log.database.own_player import own_player
from game.practice_log.database.store import Connection
from game.practice_log.queries.dated_cuts import days_before
from game.practice_log.queries.entry_order import Position, entries_after, position_before_newest
from game.practice_log.queries.log_cut import LogCut, newest_cut, stands
from game.practice_log.rows.entry_rows import Kind

AT_ONCE = 1500
"""So many entries are gone through while the player waits: about a second."""

_WORTH_KEEPING = 50
"""So many entries since the last snapshot make another worth writing."""

State = TypeVar("State")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold(Generic[State]):
    """How one thing is made of the log.

    `name` is that of its snapshots. `initial` is what it begins with; `add_entries` adds all that came after a position
    and up to another, by what so many of the newest takes tell where more would have to be gone through; `kind` is the
    kind of entry that takes the time. `pack` and `unpack` make it fit for a file, where it lies as a `stored_type`.
    """

    name: str
    initial: State
    add_entries: Callable[[Connection, UUID, State, Position, Position, int | None], State]
    kind: Kind
    stored_type: type[Any]
    pack: Callable[[State], Any]
    unpack: Callable[[Any], State]

    def path(self, folder: Path) -> Path:
        """Where its newest snapshot lies."""
        return snapshot_path(folder, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded(Generic[State]):
    """What was made, and whether of the whole log, or for now of its newest entries only."""

    state: State
    complete: bool


def fold_log(
    fold: Fold[State], connection: Connection, folder: Path, player: UUID, at_once: int | None
) -> Folded[State]:
    """What the log in `folder` comes to, by way of the newest snapshot beside it that still holds. `at_once` None goes
    through all of it, however long that takes, and keeps snapshots of days before on its way.
    """
    everything = newest_cut(connection, player)
    state, cut = _stored(fold, connection, folder, player, everything)
    left = entries_after(connection, player, fold.kind, cut.position)
    newest = everything.position
    if at_once is not None and left > at_once:
        begin = position_before_newest(connection, player, fold.kind, at_once)
        return Folded(state=fold.add_entries(connection, player, fold.initial, begin, newest, at_once), complete=False)
    after = cut.position
    for dated in days_before(connection, player, after, newest) if at_once is None else ():
        state = fold.add_entries(connection, player, state, after, dated.position, None)
        write_dated_snapshot(folder, fold.name, fold.pack(state), player=player, cut=dated)
        after = dated.position
    if after < newest:
        state = fold.add_entries(connection, player, state, after, newest, None)
    if at_once is None or left >= _WORTH_KEEPING:
        write_snapshot(folder, fold.name, fold.pack(state), player=player, cut=everything)
    return Folded(state=state, complete=True)


def _stored(
    fold: Fold[State], connection: Connection, folder: Path, player: UUID, everything: LogCut
) -> tuple[State, LogCut]:
    """The newest snapshot that still holds, and of what it was made. Others are thrown away."""
    for kept in snapshots_of(folder, fold.name, player=player):
        if kept.cut == everything or stands(connection, player, kept.cut):
            with suppress(msgspec.MsgspecError, ValueError, RecursionError):
                return fold.unpack(msgspec.msgpack.decode(kept.made, type=fold.stored_type)), kept.cut
        throw_away(kept.path)
    return fold.initial, LogCut()


class ProjectionRebuild(BackgroundProcess):
    """A process that goes through the whole log of a folder, to make one thing."""

    def __init__(self, folder: Path, name: str) -> None:
        super().__init__("game.player.log_fold", str(folder), name)


def main(folder: Path, name: str) -> int:
    """Go through the whole log in a folder and keep what comes of it."""
    fold = import_module(f"game.player.{name}").FOLD
    with opened_log(folder / "practice.sqlite") as connection:
        fold_log(fold, connection, folder, own_player(folder / "practice.sqlite").uuid, None)
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2]))
