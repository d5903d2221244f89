"""A class gathered of exports: `python -m tests.bench.school [--students N] [--days N]`.

Each student has a year of practice (297 days are 47,000 notes) of a seed of their own. Prints seconds of processor, of
this program and of the children that read the files, and by the clock; beside them a plain count, by which machines can
be compared. Targets: half a second of processor for a student, 30 s for forty the first time, 4 s the second Monday
with three changed; the pages of the report are not counted here.
"""

import argparse
import resource
import sqlite3
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import UUID

from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from game.practice_log.transfer.export import write_export
from tests.bench.practised_year import write_year
from tests.practice_log.logged_takes import PLAYER

NOW = datetime(2027, 9, 20, 12, tzinfo=UTC)
CHANGED = 3


def spent_s(who: int) -> float:
    """Seconds of processor so far."""
    used = resource.getrusage(who)
    return used.ru_utime + used.ru_stime


def cost(what: str, work: Callable[[], object]) -> None:
    """Print what a piece of work takes."""
    own_s, children_s, clock_s = spent_s(resource.RUSAGE_SELF), spent_s(resource.RUSAGE_CHILDREN), time.perf_counter()
    work()
    own_s, children_s = spent_s(resource.RUSAGE_SELF) - own_s, spent_s(resource.RUSAGE_CHILDREN) - children_s
    clock_s = time.perf_counter() - clock_s
    print(
        f"{what:45} {own_s + children_s:7.2f} s ({children_s:.2f} s of it children), {clock_s:7.2f} s by the clock",
        flush=True,
    )


def count() -> int:
    """The reference."""
    return sum(number * number for number in range(5_000_000))


def export(folder: Path, number: int, days: int, player: Identity) -> int:
    """A student's export; how many notes they played."""
    log = folder.parent / "log.sqlite"
    log.unlink(missing_ok=True)
    notes = write_year(log, days=days, seed=number)
    with closing(sqlite3.connect(log, isolation_level=None)) as connection:
        for name in ("player_no_update", "entry_no_update"):
            connection.execute(f"DROP TRIGGER IF EXISTS {name}")
        connection.execute("UPDATE player SET uuid = ? WHERE uuid = ?", (str(player.uuid), str(PLAYER.uuid)))
        write_export(connection, player, folder / f"{number:03}.zip", now=NOW)
    log.unlink()
    return notes


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--students", type=int, default=5)
    parser.add_argument("--days", type=int, default=297)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder, into = Path(place) / "class", Path(place) / "class.sqlite"
        folder.mkdir()
        players = [Identity(uuid=UUID(int=number), name=f"student {number}") for number in range(1, args.students + 1)]
        notes = sum(export(folder, number, args.days, player) for number, player in enumerate(players, start=1))
        print(f"{args.students} students, {notes:,} notes")
        cost("a plain count", count)
        cost("all, the first time", lambda: gather_class(folder, into))
        print(f"{into.stat().st_size / notes:.0f} bytes a note")
        for number, player in list(enumerate(players, start=1))[:CHANGED]:
            export(folder, number, args.days + 7, player)
        cost(f"again, {min(CHANGED, args.students)} changed", lambda: gather_class(folder, into))
        cost("again, nothing changed", lambda: gather_class(folder, into))
        with closing(sqlite3.connect(into)) as connection:
            today = date.fromisoformat(connection.execute("SELECT MAX(day) FROM day").fetchone()[0])
            cost("what each needs", lambda: class_week(connection, today))


if __name__ == "__main__":
    main()
