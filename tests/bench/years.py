"""Five years of practice in the log: `python -m tests.bench.years [--days N]`. Prints a table; nothing here fails.

The reference is a plain count of all verdicts in the same file.
"""

import argparse
import sqlite3
import sys
import tempfile
import time
from datetime import UTC, date, datetime
from pathlib import Path

from game.coaching import Coaching
from game.keeping import LOG_FILE, Keeping
from game.mastering import Mastering
from game.planning import Planning
from game.practice_log.figures import gathered
from game.report.written import write_own_report
from game.settings import Settings
from tests.bench.five_years import DAYS, FIRST_DAY, PLAYER, write_five_years


def main() -> int:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=DAYS)
    days = parser.parse_args().days
    with tempfile.TemporaryDirectory() as folder:
        _table(Path(folder), days)
    return 0


def _table(folder: Path, days: int) -> None:
    log = folder / LOG_FILE
    (folder / "player.json").write_text(f'{{"uuid": "{PLAYER.uuid}", "name": "{PLAYER.name}"}}', encoding="utf-8")
    notes = _timed("writing it", "", lambda: write_five_years(log, days=days))
    print(f"{notes:,} notes, {log.stat().st_size / 1e6:.0f} MB")
    with sqlite3.connect(log) as connection:
        _timed(
            "reference: count of verdicts", "", lambda: connection.execute("SELECT count(*) FROM verdict").fetchone()
        )
    today = date.fromordinal(FIRST_DAY.toordinal() + days)
    keeping = Keeping(folder, lambda: datetime.now(UTC))
    coaching = Coaching(keeping, target_bpm=100, today=lambda: today)
    _timed("the coach's state", "", lambda: coaching.state)
    mastering = Mastering(keeping, lambda: today)
    _timed("mastery, first time", "5 s", lambda: mastering.mastery)
    again = Mastering(keeping, lambda: today)
    _timed("mastery, at the next start", "300 ms", lambda: again.mastery)
    planning = Planning(coaching, again, Settings, time.perf_counter)
    _timed("the plan", "300 ms", lambda: planning.course)

    def progress() -> None:
        with keeping.log.reading() as connection, gathered(connection, PLAYER.uuid) as figures:
            figures.days(), figures.notes(today, 28), figures.passages()

    _timed("progress", "300 ms", progress)
    _timed("report", "10 s", lambda: write_own_report(log, folder / "report.html"))
    keeping.close()


def _timed(what: str, target: str, run):
    began = time.perf_counter()
    found = run()
    print(f"{what:32}{1000 * (time.perf_counter() - began):10.0f} ms   {target}", flush=True)
    return found


if __name__ == "__main__":
    sys.exit(main())
