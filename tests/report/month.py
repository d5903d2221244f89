"""A month of practice in a log: every other day three passages, read as they come, with mistakes that are known."""

from datetime import timedelta
from random import Random

from game.practice_log.rows.log_records import Sighting
from game.practice_log.writing.practice_log import PracticeLog
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

LINES = (
    passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h", key=-1),
    passage("C5 q, A4 q, F4 q, A4 q", "G4 w", key=-1),
    passage("D5 q, C5 q, Bb4 q, A4 q", "F4 w", key=-1),
)
DAYS = 15


def write_month(path, *, player=PLAYER, title=None, seed=1):
    """Write it; returns (days, takes, first-sight notes, clean among them)."""
    rng = Random(seed)
    takes = read = clean = 0
    with PracticeLog(path, device=DEVICE, now=lambda: MORNING) as log:
        for day in range(DAYS):
            for at, tune in enumerate(LINES):
                minutes = 2 * 1440 * day + 5 * at
                sighting = Sighting(nth=day + 1)
                take = begun(minutes=minutes, tune=_titled(tune, title), sighting=sighting, player=player)
                wrong = {note.n for note in take.asked.notes if rng.random() < 0.2}
                handle = log.begin_take(take, zero_s=0.0)
                played = notes_of(take, gap_s=1.0, wrong=wrong)
                for note in played:
                    handle.played(note)
                handle.end(ended(judged(take, played), minutes=minutes + 1))
                takes += 1
                if sighting.nth <= 2:
                    read += len(take.asked.notes)
                    clean += len(take.asked.notes) - len(wrong)
        assert log.flush(20)
    return DAYS, takes, read, clean


def _titled(tune, title):
    from dataclasses import replace

    return tune if title is None else replace(tune, score=replace(tune.score, title=title))


def last_day():
    return (MORNING + timedelta(days=2 * (DAYS - 1))).astimezone().date()
