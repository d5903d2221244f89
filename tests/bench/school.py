"""A class gathered of exports: `python -m tests.bench.school [--students N] [--copies N] [--days N] [--long]`.

Each student has a year of practice (297 days are 47,000 notes) of a seed of their own; with copies, so many others
practised the same under ids of their own, which takes less time to write and as long to gather. With `--long` one
student more has eight years of it, 397,000 notes, gathered by a program that does nothing else.

Both Mondays are those of `homefret report --from`, of a program just started in a home of its own; the second is a week
later, so that all pages have another week, whoever practised. What gathering alone takes is measured beside it, into a
file of its own. Prints seconds of processor, of this program and of those that it started, and by the clock; beside
them a plain count, by which machines can be compared. Targets, on two processors that nobody else uses: by the clock
30 s for forty students with all pages the first time, 4 s the second Monday with three changed, half a second to gather
each, 5 s for what each of four hundred needs; the long one 2.5 s and 150 MB.
"""

import argparse
import os
import resource
import sqlite3
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import UUID

from game.player.parts_in_log import parts_in_log
from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.classes.need import WEEK_DAYS
from game.practice_log.database.identity import Identity
from game.practice_log.transfer.export import write_export
from tests.bench.practised_year import write_year
from tests.practice_log.logged_takes import PLAYER

NOW = datetime(2027, 9, 20, 12, tzinfo=UTC)
CHANGED = 3
LONG_DAYS = 2505


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


def copy_export(path: Path, into: Path, player: Identity, other: Identity) -> None:
    """The same export as another's."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(into, "w") as new:
        for member in old.infolist():
            text = old.read(member).replace(str(player.uuid).encode(), str(other.uuid).encode())
            new.writestr(member, text.replace(player.name.encode(), other.name.encode()))


def students(count: int) -> Iterator[tuple[int, Identity]]:
    """Who they are, each with a number from 1."""
    for number in range(1, count + 1):
        yield number, Identity(uuid=UUID(int=number), name=f"student {number}")


def gather_alone(folder: Path, into: Path) -> None:
    """Gather, and print the most memory that it took."""
    cost("one student of eight years", lambda: gather_class(folder, into, parts_of=parts_in_log))
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000:.0f} MB")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--students", type=int, default=5)
    parser.add_argument("--copies", type=int, default=0)
    parser.add_argument("--days", type=int, default=297)
    parser.add_argument("--long", action="store_true")
    parser.add_argument("--gather", nargs=2, type=Path, help=argparse.SUPPRESS)
    args = parser.parse_args()
    if args.gather:
        gather_alone(*args.gather)
        return
    with tempfile.TemporaryDirectory() as place:
        two_mondays(Path(place), args)
        if args.long:
            long_one(Path(place))


def hand_in(folder: Path, args: argparse.Namespace) -> int:
    """The exports of all; how many notes they played."""
    folder.mkdir()
    notes = 0
    for number, player in students(args.students):
        notes += (1 + args.copies) * export(folder, number, args.days, player)
        for nth in range(1, args.copies + 1):
            other = Identity(uuid=UUID(int=1000 * nth + number), name=f"student {1000 * nth + number}")
            copy_export(folder / f"{number:03}.zip", folder / f"{number:03}-{nth:03}.zip", player, other)
    return notes


def two_mondays(place: Path, args: argparse.Namespace) -> None:
    """A class is gathered and its pages are drawn; a week later some have practised on, and both is done again: of
    everybody else the week that ends then is another one, too.
    """
    folder, into = place / "class", place / "class.sqlite"
    notes = hand_in(folder, args)
    print(f"{args.students * (1 + args.copies)} students, {notes:,} notes")
    cost("a plain count", count)
    cost("gathering alone", lambda: gather_class(folder, into, parts_of=parts_in_log))
    print(f"{into.stat().st_size / notes:.0f} bytes a note")
    with closing(sqlite3.connect(into)) as connection:
        monday = date.fromisoformat(connection.execute("SELECT MAX(day) FROM day").fetchone()[0])
        cost("what each needs", lambda: class_week(connection, monday))
    cost("the first Monday, with all pages", lambda: report(folder, place, monday))
    for number, player in list(students(args.students))[:CHANGED]:
        export(folder, number, args.days + WEEK_DAYS, player)
    changed = min(CHANGED, args.students)
    cost(f"a week later, {changed} changed", lambda: report(folder, place, monday + timedelta(days=WEEK_DAYS)))
    cost("the same again, nothing changed", lambda: report(folder, place, monday + timedelta(days=WEEK_DAYS)))


def report(folder: Path, home: Path, today: date) -> None:
    """The command, as a teacher gives it."""
    command = [sys.executable, "-m", "game", "report", "--from", str(folder), "--today", today.isoformat()]
    env = {**os.environ, "HOME": str(home), "XDG_DATA_HOME": str(home / "data")}
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=env)


def long_one(place: Path) -> None:
    """One student of eight years, gathered by a program that does nothing else."""
    folder = place / "long"
    folder.mkdir()
    print(f"{export(folder, 1, LONG_DAYS, next(students(1))[1]):,} notes")
    command = [sys.executable, "-m", "tests.bench.school", "--gather", str(folder), str(place / "l.sqlite")]
    subprocess.run(command, check=True)


if __name__ == "__main__":
    main()
