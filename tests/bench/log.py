"""The practice log by numbers: `python -m tests.bench.log`. Prints a table; nothing here fails.

The caller's side is what a frame pays, measured on the wall clock with the writer at work beside it; the latency is
what a second connection, polling every millisecond, sees from the call to the commit. Takes have 32 notes.
"""

import math
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

from game.coach.coach import advance, replayed
from game.coach.events import PassageFacts
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.judging.version import JUDGE_VERSION
from game.music.passage import Passage
from game.neck.neck_map import standard_map
from game.practice_log.queries.take_queries import takes_between
from game.practice_log.queries.take_sightings import sighting_now
from game.practice_log.rows.decision_rows import coach_result
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import Outcome, Sighting, TakeBegun, TakeEnded, Terms
from game.practice_log.rows.take_beginning import take_begun
from game.practice_log.writing.entries import counted_from
from game.practice_log.writing.practice_log import PracticeLog
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PICKUP, PLAYER, judged, notes_of, takes_of_bars
from tests.practice_log.read_back import decisions_of

MAP = standard_map()
NAMES = ("F4", "G4", "A4", "Bb4", "C5", "D5", "E5", "F5")
PASSAGES, TAKES_OF_EACH = 40, 5
LATENCIES = 60


def main() -> int:
    """Print the table."""
    sys.setswitchinterval(0.0005)  # as the app does
    _row("what", "p50", "p99", "most", "target")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "practice.sqlite"
        with PracticeLog(path, device=DEVICE, now=lambda: datetime.now(UTC)) as log:
            _callers_side(log)
            _latency(log, path)
        path.unlink()
        with PracticeLog(path, device=DEVICE, now=lambda: datetime.now(UTC)) as log:
            _size(log, path)
            _questions(log)
    return 0


def _row(what: str, *cells: str) -> None:
    print(f"{what:52}" + "".join(f"{cell:>12}" for cell in cells), flush=True)


def _share(figures: list[float], share: float) -> float:
    return sorted(figures)[min(len(figures) - 1, math.ceil(share * len(figures)) - 1)]


def _times(what: str, figures_s: list[float], target: str = "") -> None:
    """A row in the unit that suits."""
    factor, unit = (1e6, "us") if _share(figures_s, 0.5) < 1e-3 else (1e3, "ms")
    shown = (_share(figures_s, 0.5), _share(figures_s, 0.99), max(figures_s))
    _row(what, *(f"{figure * factor:.1f} {unit}" for figure in shown), target)


def _timed(call: Callable[[], Any]) -> float:
    began_s = time.perf_counter()
    call()
    return time.perf_counter() - began_s


def _bars(number: int) -> Passage:
    """Four bars of eighths, other bars for every number."""
    rng = Random(number)
    return passage(*(", ".join(f"{rng.choice(NAMES)} e" for _ in range(8)) for _ in range(4)), key=-1)


def _take(number: int, minutes: int = 0, nth: int = 1) -> TakeBegun:
    """A take of the bars of that number."""
    return take_begun(
        _bars(number),
        MAP,
        Terms(stage=Stage.PLACES),
        started_at=MORNING + timedelta(minutes=minutes),
        player=PLAYER,
        instrument=PICKUP,
        sighting=Sighting(nth=nth),
    )


def _callers_side(log: PracticeLog) -> None:
    """Notes at a steady twenty a second would take long: here every two milliseconds, so that commits fall between."""
    building, beginning, playing, ending = [], [], [], []
    for number in range(40):
        began_s = time.perf_counter()
        take = _take(number)
        building.append(time.perf_counter() - began_s)
        began_s = time.perf_counter()
        handle = log.begin_take(take, zero_s=0.0)
        beginning.append(time.perf_counter() - began_s)
        played = notes_of(take, wrong={4, 9})
        for note in played:
            playing.append(_timed(partial(handle.played, note)))
            time.sleep(0.002)
        ended = TakeEnded(
            ended_at=MORNING, outcome=Outcome.FINISHED, judge=JUDGE_VERSION, judgement=judged(take, played)
        )
        ending.append(_timed(partial(handle.end, ended)))
    _times("take_begun: notes, homes, key (before the take)", building)
    _times("begin_take", beginning)
    _times("played, writer at work", playing, "< 100 us")
    _times("end", ending)
    log.flush(60)


def _latency(log: PracticeLog, path: Path) -> None:
    take = _take(1)
    handle = log.begin_take(take, zero_s=0.0)
    log.flush(60)
    reader = sqlite3.connect(path)
    figures = []
    chance = Random(7)
    for note in notes_of(take)[:1] * LATENCIES:
        (before,) = reader.execute("SELECT count(*) FROM played").fetchone()
        began_s = time.perf_counter()
        handle.played(counted_from(note, -began_s))
        while reader.execute("SELECT count(*) FROM played").fetchone() == (before,):
            time.sleep(0.001)
        figures.append(time.perf_counter() - began_s)
        time.sleep(chance.uniform(0.0, 0.05))
    reader.close()
    _times("from played to committed", figures, "< 250 ms")


def _size(log: PracticeLog, path: Path) -> None:
    state, played = CoachState(), 0
    began_s = time.perf_counter()
    for number in range(PASSAGES):
        facts = PassageFacts(name=f"passage {number}")
        for nth in range(1, TAKES_OF_EACH + 1):
            take = _take(number, minutes=number * TAKES_OF_EACH + nth, nth=nth)
            notes = notes_of(take, wrong=set(Random(nth).sample(range(1, 33), 3)))
            handle = log.begin_take(take, zero_s=0.0)
            for note in notes:
                handle.played(note)
            judgement = judged(take, notes)
            handle.end(TakeEnded(ended_at=MORNING, outcome=Outcome.FINISHED, judge=JUDGE_VERSION, judgement=judgement))
            result = coach_result(take, facts, day=1, judgement=judgement)
            state, decision = advance(state, result)
            log.decision(result, decision, player=PLAYER, at=MORNING, take=handle)
            played += len(notes)
    log.flush(60)
    spent_s = time.perf_counter() - began_s
    with log.reading() as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        same = replayed(item.event for item in decisions_of(connection, PLAYER.uuid)) == state
        asked = 32 * PASSAGES * TAKES_OF_EACH
        tables = connection.execute("SELECT name, sum(pgsize) FROM dbstat GROUP BY name ORDER BY 2 DESC LIMIT 5")
        try:
            largest = ", ".join(f"{name} {size / asked:.0f}" for name, size in tables)
        except sqlite3.OperationalError:
            largest = "not told by this SQLite"
    _row(f"size for 1,000 notes ({asked} asked, {played} played)", f"{path.stat().st_size / asked:.1f} kB")
    print(f"  bytes a note in the largest tables and indices: {largest}")
    _row("played, judged, coached and written, a take", f"{spent_s * 1000 / PASSAGES / TAKES_OF_EACH:.1f} ms")
    _row("the coach replayed from the log is as it was", "yes" if same else "NO")


def _questions(log: PracticeLog) -> None:
    key = _take(3).bars.passage_key
    with log.reading() as connection:
        (take, *_) = takes_of_bars(connection, PLAYER.uuid, key)
        day = (PLAYER.uuid, MORNING.date(), MORNING.date())
        questions = {
            f"takes of a day ({len(takes_between(connection, *day))})": lambda: takes_between(connection, *day),
            f"takes of some bars ({TAKES_OF_EACH})": lambda: takes_of_bars(connection, PLAYER.uuid, key),
            "how often these bars were seen": lambda: sighting_now(connection, PLAYER.uuid, _bars(3)),
            "judgement of a take": lambda: judgement_of(connection, take.take),
            f"what the coach heard and said ({PASSAGES * TAKES_OF_EACH})": lambda: decisions_of(
                connection, PLAYER.uuid
            ),
        }
        for what, question in questions.items():
            _times(what, [_timed(question) for _ in range(5)])


if __name__ == "__main__":
    sys.exit(main())
