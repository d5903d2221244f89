"""A year of practice gathered, of 47,000 notes and more, and five; a month shared: `python -m tests.bench.gather`.

Processor time in all, that of the child with limits that reads the file, too. The reference is what the same run takes
to pass each line of the same export through `json` and the notes in it into a table without keys. What is made of the
log afterwards is not in it (`tests.bench.coach`, `tests.bench.years`).
"""

import argparse
import json
import os
import sqlite3
import statistics
import tempfile
import zipfile
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from game.practice_log.database.own_device import own_device
from game.practice_log.database.store import open_store
from game.practice_log.transfer.export import write_export
from game.practice_log.transfer.gather import gather
from game.practice_log.transfer.share import Sharing, write_share
from tests.bench.practised_year import DAYS, write_year
from tests.practice_log.logged_takes import MORNING, PLAYER

NOW = MORNING + timedelta(days=6 * 365)
YEARS = 5


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    runs = parser.parse_args().runs
    with tempfile.TemporaryDirectory() as folder:
        _table(Path(folder), runs)


def _table(folder: Path, runs: int) -> None:
    year, years = folder / "year.sqlite", folder / "years.sqlite"
    notes, all_notes = write_year(year), write_year(years, days=YEARS * DAYS)
    for log in (year, years):
        with closing(open_store(log, now_utc=NOW)) as connection:
            write_export(connection, PLAYER, log.with_suffix(".zip"), now=NOW)
    print(f"notes in the year, in the five        {notes:8,} {all_notes:8,}")
    reference = _median(lambda: line_by_line(year.with_suffix(".zip")), runs)
    print(f"reference: the year line by line      {reference:8.0f} ms of processor time (median of {runs})")
    for words, path, target in (
        ("a year, from its export", year.with_suffix(".zip"), "target 500 per 47,000 notes"),
        ("a year, from its log", year, ""),
        ("five years, from their export", years.with_suffix(".zip"), ""),
    ):
        took = _median(lambda path=path: gathered(path), runs)
        print(f"{words:37} {took:8.0f} ms, {took / reference:.2f} of the reference  {target}")
    known = _known(folder, year.with_suffix(".zip"))
    print(f"the same year again                   {_median(known, runs):8.0f} ms")
    print(f"a month written into a shared folder  {_median(_sharing(folder), runs):8.0f} ms")


def line_by_line(path: Path) -> None:
    """The reference: lines as plain values, and their notes into a table without keys."""
    with zipfile.ZipFile(path) as archive, closing(sqlite3.connect(":memory:")) as connection:
        connection.execute("CREATE TABLE note (a, b, c, d, e)")
        for line in archive.open("entries.jsonl"):
            played = json.loads(line).get("played")
            if played:
                rows = zip(*(played[name] for name in ("at", "sounding", "string", "fret", "velocity")), strict=True)
                connection.executemany("INSERT INTO note VALUES (?, ?, ?, ?, ?)", rows)


def gathered(path: Path) -> None:
    """Into a log in which nothing is yet."""
    with tempfile.TemporaryDirectory() as folder:
        came = gather(Path(folder) / "practice.sqlite", [path], now=NOW)
        assert (came.files, came.faults) == (1, [])


def _known(folder: Path, path: Path) -> Callable[[], object]:
    log = folder / "known" / "practice.sqlite"
    gather(log, [path], now=NOW)
    return lambda: gather(log, [path], now=NOW)


def _sharing(folder: Path) -> Callable[[], object]:
    """The open file of a month, of which nothing lies there yet."""
    log = folder / "month" / "practice.sqlite"
    log.parent.mkdir()
    device = own_device(log.parent)
    write_year(log, days=25, device=device)

    def share() -> None:
        with tempfile.TemporaryDirectory() as cloud:
            sharing = Sharing(log=log, folder=Path(cloud), player=PLAYER, device=device.uuid)
            assert write_share(sharing, now=MORNING + timedelta(days=3)) > 0

    return share


def _median(work: Callable[[], object], runs: int) -> float:
    """Milliseconds of processor time, in this process and those it waits for."""
    return statistics.median(_processor_ms(work) for _ in range(runs))


def _processor_ms(work: Callable[[], object]) -> float:
    before = os.times()
    work()
    after = os.times()
    return 1000 * sum(now - then for now, then in zip(after[:4], before[:4], strict=True))


if __name__ == "__main__":
    main()
