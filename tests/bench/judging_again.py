"""Takes of before judged again: `python -m tests.bench.judging_again [--days N]`. Prints a table; nothing here fails.

The log is that of `five_years`, whose verdicts were drawn by chance: nearly every take gets another judgement, which is
the worst there can be. Beside the process stands a writer that commits as the game does; its longest wait is told.
"""

import argparse
import os
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from game.player.player_coach import PlayerCoach
from game.player.player_log import PlayerLog
from game.player.profiles import LOG_FILE
from game.practice_log.database.identity import DEVICE_FILE, Identity
from game.practice_log.database.migrations import transaction
from game.practice_log.database.own_device import own_device
from game.practice_log.database.store import open_store
from game.practice_log.rows.entry_rows import About, Recorded, put_fact
from game.practice_log.rows.shared_rows import put_device
from game.practice_log.writing.judged_file import judged_path
from tests.bench.five_years import FIRST_DAY, PLAYER, write_five_years

_ALL_DAYS = 1825


def main() -> int:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=365)
    days = parser.parse_args().days
    with tempfile.TemporaryDirectory() as folder:
        _table(Path(folder), min(days, _ALL_DAYS))
    return 0


def _table(folder: Path, days: int) -> None:
    log = folder / LOG_FILE
    (folder / "player.json").write_text(f'{{"uuid": "{PLAYER.uuid}", "name": "{PLAYER.name}"}}', encoding="utf-8")
    notes = write_five_years(log, days=days)
    _own(folder)
    before = _size(log)
    print(f"{days} days, {notes:,} notes, {before:.1f} MB", flush=True)
    ended = threading.Event()
    waits: list[float] = []
    largest: list[float] = []
    watch = threading.Thread(target=_write_beside, args=(log, ended, waits, largest), daemon=True)
    watch.start()
    began = time.perf_counter()
    subprocess.run([sys.executable, "-m", "game.player.judging_process", str(folder)], check=True)
    taken = time.perf_counter() - began
    ended.set()
    watch.join()
    after = _size(log)
    print(f"{'in the background':44}{taken:8.1f} s, and {_processor_s():.1f} s of the processor")
    print(f"{'the log grew by':44}{after - before:8.1f} MB, {(after - before) / before:.0%}")
    print(f"{'the file beside it, at most':44}{max(largest, default=0.0):8.1f} MB")
    print(f"{'a commit beside it, p50 and longest':44}{_share(waits, 0.5):8.1f} ms {max(waits):8.1f} ms")
    _next_start(folder)


def _own(folder: Path) -> None:
    """The log was recorded on this computer: its id is that of the log."""
    own = own_device(folder)
    kept = folder / DEVICE_FILE
    kept.write_text(kept.read_text(encoding="utf-8").replace(str(own.uuid), str(UUID(int=1))), encoding="utf-8")


def _write_beside(log: Path, ended: threading.Event, waits: list[float], largest: list[float]) -> None:
    """A commit every tenth of a second, as the game's writer makes them."""
    connection = open_store(log, now_utc=FIRST_DAY)
    recorded = Recorded(put_device(connection, Identity(uuid=UUID(int=1), name="desk")), 1, datetime.now(UTC))
    while not ended.wait(0.1):
        began = time.perf_counter()
        with suppress(sqlite3.OperationalError), transaction(connection):
            put_fact(connection, recorded, About.OPENED_TUNE, {"tune": "river"})
        waits.append(1000 * (time.perf_counter() - began))
        if judged_path(log).exists():
            largest.append(judged_path(log).stat().st_size / 1e6)
    connection.close()


def _next_start(folder: Path) -> None:
    log = PlayerLog(folder)
    began = time.perf_counter()
    coach = PlayerCoach(log, target_bpm=lambda: 96)
    known = len(coach.state.records)
    print(f"{'the coach at the next start':44}{1000 * (time.perf_counter() - began):8.1f} ms, {known} passages")
    print(f"{'made of the whole log':44}{coach.projection.complete!s:>8}")
    log.close()


def _size(log: Path) -> float:
    """Megabytes."""
    connection = sqlite3.connect(log)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    return log.stat().st_size / 1e6


def _share(figures: list[float], share: float) -> float:
    return sorted(figures)[int(share * (len(figures) - 1))]


def _processor_s() -> float:
    """What processes of ours that ended took of the processor."""
    told = os.times()
    return told.children_user + told.children_system


if __name__ == "__main__":
    sys.exit(main())
