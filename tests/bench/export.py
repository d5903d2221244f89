"""A student's export of 47,000 notes, read back, and the report of it: `python -m tests.bench.export [--runs N]`.

The reference takes each row of an export of the first form once through `json`, line by line, and into a table, in the
same run. Target: reading the export, of today's form or the first, takes at most three quarters of that.
"""

import argparse
import json
import shutil
import sqlite3
import statistics
import tempfile
import time
import zipfile
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

from game.practice_log.classes.class_file import read_class
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.foreign.read_export import read_export
from game.practice_log.transfer.contents import TABLES
from game.practice_log.transfer.export import write_export
from game.report.report_files import ClassPages, write_class
from tests.bench.practised_year import write_year
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.tables_export import write_tables

DAYS = 297


def line_by_line(path: Path) -> None:
    """The reference: rows as plain values into tables without keys."""
    with zipfile.ZipFile(path) as archive, sqlite3.connect(":memory:") as connection:
        for table in TABLES:
            rows = [json.loads(line) for line in archive.open(f"{table}.jsonl")]
            if rows:
                connection.execute(f"CREATE TABLE {table} ({', '.join(f'c{at}' for at in range(len(rows[0])))})")
                connection.executemany(f"INSERT INTO {table} VALUES ({', '.join('?' * len(rows[0]))})", rows)


def read(path: Path) -> None:
    connection, _ = read_export(path)
    connection.close()


def report_of(folder: Path) -> None:
    """The pages of a class that is gathered for the first time."""
    file = folder.parent / "class.sqlite"
    file.unlink(missing_ok=True)
    told = gather_class(folder, file)
    pages = ClassPages(index=folder.parent / "page" / "index.html", today=date(2026, 6, 1), accepts=lambda _: True)
    with read_class(file) as asked:
        write_class(asked, pages, told.faults)


def seconds(work: Callable[[], object]) -> float:
    started_s = time.perf_counter()
    work()
    return time.perf_counter() - started_s


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=7)
    runs = parser.parse_args().runs
    with tempfile.TemporaryDirectory() as folder:
        export = Path(folder) / "class" / "student.zip"
        export.parent.mkdir()
        tables = Path(folder) / "tables.zip"
        notes = write_year(Path(folder) / "log.sqlite", days=DAYS)
        with closing(sqlite3.connect(Path(folder) / "log.sqlite")) as log, log:
            for write, path in ((write_export, export), (write_tables, tables)):
                write(log, PLAYER, path, now=datetime(2026, 6, 1, 12, tzinfo=UTC))
        report_of(export.parent)
        turns = [
            (
                seconds(lambda: line_by_line(tables)),
                seconds(lambda: read(export)),
                seconds(lambda: read(tables)),
                seconds(lambda: report_of(export.parent)),
            )
            for _ in range(runs)
        ]
        shutil.rmtree(export.parent)
    reference, reading, reading_tables, report = (
        statistics.median(column) * 1000 for column in zip(*turns, strict=True)
    )
    ratio, of_tables = (statistics.median(turn[at] / turn[0] for turn in turns) for at in (1, 2))
    print(f"notes in the export               {notes:8,}")
    print(f"rows through json, line by line   {reference:8.0f} ms (median of {runs})")
    print(f"the export read and checked       {reading:8.0f} ms")
    print(f"ratio, median of pairs            {ratio:8.2f}     target at most 0.75")
    print(f"one of the first form             {reading_tables:8.0f} ms")
    print(f"ratio, median of pairs            {of_tables:8.2f}     target at most 0.75")
    print(f"its report, page and tables       {report:8.0f} ms")


if __name__ == "__main__":
    main()
