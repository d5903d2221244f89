"""A week of practice in a log: bars that are read with known mistakes."""

from dataclasses import replace
from datetime import UTC

from game.neck.neck_map import standard_map
from game.practice_log.writing.practice_log import PracticeLog
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of

ROWS = (
    ("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h"),
    ("C5 q, A4 q, F4 q, A4 q", "G4 w"),
    ("D5 q, C5 q, Bb4 q, A4 q", "F4 w"),
    ("A4 q, C5 q, Bb4 q, A4 q", "G4 w"),
    ("G4 q, C5 q, Bb4 q, A4 q", "G4 w"),
)
# Minutes after the first, which bars, which notes wrong, seconds a note.
TAKES = (
    (0, 0, {1}, 1.0),
    (5, 0, {1, 2, 3}, 1.0),
    (10, 0, {2}, 1.0),
    (15, 1, set(), 1.0),
    (20, 2, set(), 2.5),
    (25, 3, {1, 2}, 1.0),
    (30, 4, {5}, 1.0),
)


def write_week(path, takes=TAKES, *, terms=None, zone=UTC, neck_map=None):
    """Write the takes, all of them unless some are given, as played in a zone and on a map."""
    with PracticeLog(path, device=DEVICE, now=lambda: MORNING) as log:
        for minutes, row, wrong, gap_s in takes:
            tune = passage(*ROWS[row], key=-1)
            take = begun(
                minutes=minutes, tune=tune, neck_map=neck_map or standard_map(), **({"terms": terms} if terms else {})
            )
            take = replace(take, started_at=take.started_at.astimezone(zone))
            handle = log.begin_take(take, zero_s=0.0)
            played = notes_of(take, gap_s=gap_s, wrong=wrong)
            for note in played:
                handle.played(note)
            handle.end(ended(judged(take, played), minutes=minutes + 1))
        assert log.flush(20)
