"""Five years of practice in the log: `python -m tests.bench.years [--days N]`. Prints a table; nothing here fails.

The screens are opened and drawn without a window, each as after a new start of the program, by all the parts that the
game has. The reference is a plain count of all verdicts in the same file.
"""

import argparse
import os
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

from game.player.player_coach import FOLD as COACH
from game.player.player_notes import FOLD as MASTERY
from game.player.profiles import LOG_FILE
from game.practice_log.queries.sums_file import SUFFIX
from game.screens.routes import ToProgress, ToToday
from tests.bench.five_years import DAYS, FIRST_DAY, PLAYER, write_five_years
from tests.screens.table import Table

RUNS = 5
_REPORT = "from game.report.report_files import write_own_report; from pathlib import Path; import sys; \
write_own_report(Path(sys.argv[1]), Path(sys.argv[2]))"


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
    began = time.perf_counter()
    notes = write_five_years(log, days=days)
    print(f"{notes:,} notes, {log.stat().st_size / 1e6:.0f} MB, written in {time.perf_counter() - began:.0f} s")
    with closing(sqlite3.connect(log)) as connection, connection:
        _row(
            "reference: count of verdicts",
            _times(lambda: connection.execute("SELECT count(*) FROM verdict").fetchone()),
        )
    today = FIRST_DAY.toordinal() + days - 1
    _loaded(today)
    _plan(folder, today)
    _progress(folder, today)
    command = [sys.executable, "-c", _REPORT, str(log), str(folder / "report.html")]
    _row("report, the whole command", _times(lambda: subprocess.run(command, check=True), runs=3), "10 s")


def _loaded(today: int) -> None:
    """Everything is imported and laid out once, at a table without a log."""
    with tempfile.TemporaryDirectory() as nothing:
        table = _started(Path(nothing), today)
        for route in (ToToday(), ToProgress()):
            table.go(route)
            table.app.draw()
        table.context.session.log.close()


def _plan(folder: Path, today: int) -> None:
    for fold in (COACH, MASTERY):
        fold.path(folder).unlink(missing_ok=True)
    table = _started(folder, today)
    _row("plan screen, all to be made anew", [_seconds(lambda: _shown(table, ToToday()))], "5 s, and says so")
    print(f"{'':32}says so: {not table.context.session.plan.complete}")
    began = time.perf_counter()
    for known in (table.context.session.notes.projection, table.context.session.coach.projection):
        known.wait(600)
    print(f"{'  until the whole log was gone through':40}{time.perf_counter() - began:6.1f} s in other processes")
    table.context.session.log.close()
    _row("plan screen, at the next starts", _opened(folder, today, ToToday()), "300 ms")


def _progress(folder: Path, today: int) -> None:
    (folder / f"{LOG_FILE}{SUFFIX}").unlink(missing_ok=True)
    table = _started(folder, today)

    def added_up() -> None:
        _shown(table, ToProgress())
        while not table.screen.progress.days:
            table.wait(0.02)

    _row("progress screen, sums made anew", [_seconds(added_up)], "5 s, and says so")
    table.context.session.log.close()
    _row("progress screen, at the next starts", _opened(folder, today, ToProgress()), "300 ms")


def _started(folder: Path, today: int) -> Table:
    table = Table(folder)
    table.day = today
    return table


def _shown(table: Table, route: object) -> None:
    table.go(route)
    table.app.draw()


def _opened(folder: Path, today: int, route: object) -> list[float]:
    times = []
    for _ in range(RUNS):
        table = _started(folder, today)
        times.append(_seconds(lambda table=table: _shown(table, route)))
        table.context.session.log.close()
    return times


def _seconds(call: Callable[[], object]) -> float:
    began = time.perf_counter()
    call()
    return time.perf_counter() - began


def _times(call: Callable[[], object], runs: int = RUNS) -> list[float]:
    return [_seconds(call) for _ in range(runs)]


def _row(what: str, times: list[float], target: str = "") -> None:
    print(f"{what:40}{1000 * statistics.median(times):7.0f} ms   {target}", flush=True)


if __name__ == "__main__":
    sys.exit(main())
