"""What is wrong with the log of a player at the start, and how it is put right: from the newest automatic back-up, and
from what can be read of the damaged file, which is always kept under a name with the time.
"""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from game.errors import LogError
from game.message import message
from game.practice_log.back_ups.automatic import AutomaticBackUp, automatic_back_ups, comparable, is_suspect
from game.practice_log.back_ups.backup import refused
from game.practice_log.back_ups.restoring import make_empty_log, remove_log, swap_in
from game.practice_log.database.in_use import not_in_use
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.database.soundness import Damage, DamageKind, damage_of
from game.practice_log.database.take_mark import takes_at_least
from game.practice_log.documents.merging import add_log
from game.practice_log.foreign.filling import write_log
from game.practice_log.foreign.read_export import Salvaged, write_copy, write_salvaged
from game.practice_log.foreign.row_lines import FileHead

_FROM_BACK_UP, _READABLE = ".recovered", ".readable"
_PAGE_BYTES = 4096


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundDamage:
    """What is wrong with a log, the newest back-up there is of it, and whether it is worth trying to read something of
    the file.
    """

    damage: Damage
    back_up: AutomaticBackUp | None
    readable: bool = True

    @property
    def usable(self) -> bool:
        """Whether the log can be played into as it is: it only lacks something."""
        return self.damage.kind is DamageKind.SHORTER


@dataclass(frozen=True, slots=True, kw_only=True)
class Recovered:
    """A log that was put right: how many takes it holds, how many that were in the damaged one are in it no longer, as
    far as that is known, and where that is kept. `salvaged` is None where nothing of it was read.
    """

    takes: int
    takes_lost: int
    salvaged: Salvaged | None
    kept: Path | None


def found_damage(log: Path) -> FoundDamage | None:
    """What is wrong with a log; None where nothing is, or where a game that is open plays into it: that has looked."""
    try:
        with not_in_use(log):
            return _found(log)
    except LogError as refused:
        # Where nothing can be locked, on a disk that is read-only say, it is looked at all the same.
        return None if refused.message.key == "log.in_use" else _found(log)


def _found(log: Path) -> FoundDamage | None:
    damage = damage_of(log, whole=is_suspect(log))
    if damage is None:
        return _shorter(log)
    newest = next(iter(automatic_back_ups(log)), None)
    return FoundDamage(damage=damage, back_up=newest, readable=_may_be_readable(log, damage))


def _may_be_readable(log: Path, damage: Damage) -> bool:
    """What does not look like a log may be one whose first page is gone."""
    if damage.kind is not DamageKind.NO_LOG:
        return damage.kind is not DamageKind.NEWER
    return log.is_file() and log.stat().st_size > _PAGE_BYTES and log.stat().st_size % _PAGE_BYTES == 0


def recover(log: Path, *, back_up: Path | None, with_readable: bool, now: datetime) -> Recovered:
    """Put a log right: from a back-up, from what can be read of the damaged one, or from both; with neither it is a new
    one. Where both are wanted and nothing can be read, the back-up alone does.

    Raises `LogError` where neither can be had; then everything is as it was.
    """
    drafts = [log.with_name(log.name + ending) for ending in (_FROM_BACK_UP, _READABLE)]
    with not_in_use(log):
        known = takes_at_least(log)
        try:
            with refused("backup.log_not_replaced", log):
                made, salvaged = _made(log, drafts, back_up, with_readable=with_readable, now=now)
            if salvaged is not None:
                known = max(known, (_take_count(drafts[1]) or 0) + salvaged.takes_lost)
            takes, kept = swap_in(made, log, now_utc=now.astimezone(UTC), damaged=True)
        finally:
            for draft in drafts:
                remove_log(draft)
    return Recovered(takes=takes, takes_lost=max(0, known - takes), salvaged=salvaged, kept=kept)


def _made(
    log: Path, drafts: list[Path], back_up: Path | None, *, with_readable: bool, now: datetime
) -> tuple[Path, Salvaged | None]:
    of_back_up, of_readable = drafts
    salvaged = None
    if back_up is not None:
        make_empty_log(of_back_up)
        write_copy(back_up, of_back_up, now_utc=now.astimezone(UTC))
    if with_readable:
        try:
            make_empty_log(of_readable)
            salvaged = write_salvaged(log, of_readable, now_utc=now.astimezone(UTC))
        except LogError:
            if back_up is None:
                raise
    if back_up is None and not with_readable:
        make_empty_log(of_readable)
        everything = [migration.name for migration in MIGRATIONS]
        write_log(of_readable, [[FileHead(migrations=everything)]], now_utc=now.astimezone(UTC))
    if back_up is None:
        return of_readable, salvaged
    if salvaged is not None:
        add_log(of_back_up, of_readable, now_utc=now.astimezone(UTC))
    return of_back_up, salvaged


def _shorter(log: Path) -> FoundDamage | None:
    """Whether the log lacks takes that were in it, or that a back-up of it holds: what was written last may have stood
    in a journal that is gone, or the whole file is.
    """
    takes, noted = _take_count(log), takes_at_least(log)
    most = max(comparable(log), key=lambda one: one.takes, default=None)
    if takes is None:
        return None
    if most is not None and most.takes > takes:
        told = message("damage.shorter", count=most.takes - takes, day=most.day)
        return FoundDamage(damage=Damage(kind=DamageKind.SHORTER, told=told), back_up=most)
    if noted > takes:
        told = message("damage.takes_gone", count=noted - takes)
        return FoundDamage(damage=Damage(kind=DamageKind.SHORTER, told=told), back_up=None)
    return None


def _take_count(log: Path) -> int | None:
    """How many takes a sound log holds; None where that cannot be told now."""
    if not log.exists() or not log.stat().st_size:
        return 0
    try:
        with closing(sqlite3.connect(f"{log.resolve().as_uri()}?mode=ro", uri=True)) as connection:
            return int(connection.execute("SELECT count(*) FROM take").fetchone()[0])
    except sqlite3.Error:
        return None
