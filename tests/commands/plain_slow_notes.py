"""Which notes of a log are slow or unsure, said as plainly as can be: each reading with what it still weighs, and sums.

The program folds readings one at a time and forgets as it goes; tests hold what it tells against this. The numbers are
chosen in `game/coach/numbers.py`, and written out here.
"""

import sqlite3
import statistics
from collections import defaultdict
from collections.abc import Iterable
from datetime import datetime
from math import exp, fsum, log
from typing import NamedTuple

Note = tuple[str, int, int]
"""The name it is written by, and its home: string and fret."""

RIGHT, WRONG = ("clean", "early", "late"), ("wrong pitch", "missed", "other place")
_LONGEST_SEARCH_MS, _SHORTEST_S = 10_000, 0.15
_EACH_NEWER_LEAVES, _HALF_LIFE_DAYS = 0.93, 30
_USUAL_S, _SLOW_S, _OFTEN_RIGHT = 1.5, 1.5, 0.90
_SLOWEST_FLUENT_S = _SLOW_S * (1 + 2 * (1 - _OFTEN_RIGHT))
_MOST = 10

_READINGS = """
SELECT take.started_utc, take.stage, take.take, note.n, note.written, note.string, note.fret, note.sounding,
    verdict.verdict, verdict.time_to_find_ms,
    CASE WHEN note.sign IS NULL THEN note.altered_by ELSE 'accidental' END AS shown
FROM verdict JOIN judgement USING (judgement) JOIN take USING (take) JOIN plain_sighting USING (take)
    JOIN asked_note AS note ON note.asked = take.asked AND note.n = verdict.n
WHERE plain_sighting.nth IN (1, 2) AND NOT plain_sighting.heard AND NOT plain_sighting.known
    AND take.stage IN ('places', 'time', 'sight')
ORDER BY take.take, note.n
"""


class Reading(NamedTuple):
    """One answer that tells something: on which day, whether right, and the logarithm of its seconds, None without."""

    day: int
    right: bool
    log_s: float | None


def plain_slow_notes(log_file: sqlite3.Connection) -> list[Note]:
    """Those of a log whose sightings were put beside it, the costliest first."""
    items = _readings(log_file)
    usual = statistics.median([*_usual_times(items.values()), log(_USUAL_S)])
    last_day = max(reading.day for readings in items.values() for reading in readings)
    spellings = defaultdict(list)
    for item in items:
        spellings[item[3]].append(item)
    told = []
    for sounding, names in spellings.items():
        find_s, cost_s, often_wrong = _costs([items[name] for name in names], usual, last_day)
        timed = [reading for name in names for reading in items[name] if reading.log_s is not None]
        slow = bool(timed) and sum(len(items[name]) for name in names) >= 2 and find_s > _SLOW_S
        if often_wrong or (slow and cost_s > _SLOWEST_FLUENT_S):
            costliest = min(names, key=lambda name: (-_costs([items[name]], usual, _last_day(items[name]))[1], name))
            told.append((-cost_s, sounding, costliest[:3]))
    return [note for _, _, note in sorted(told)[:_MOST]]


def _readings(log_file: sqlite3.Connection) -> dict[tuple, list[Reading]]:
    """By how it is written, its home, its sound and how its accidental is shown."""
    items, before = defaultdict(list), (None, None, None)
    for row in log_file.execute(_READINGS):
        again = before == (row["take"], row["n"] - 1, row["sounding"])
        before = (row["take"], row["n"], row["sounding"])
        if row["string"] is None or row["verdict"] not in RIGHT + WRONG:
            continue
        right, time_ms = row["verdict"] in RIGHT, row["time_to_find_ms"]
        alone = row["stage"] == "places" and row["n"] > 1 and not again and right
        timed = alone and time_ms is not None and time_ms <= _LONGEST_SEARCH_MS
        day = datetime.fromisoformat(row["started_utc"]).astimezone().toordinal()
        item = (row["written"], row["string"], row["fret"], row["sounding"], row["shown"])
        items[item].append(Reading(day, right, log(max(time_ms / 1000, _SHORTEST_S)) if timed else None))
    return items


def _last_day(readings: list[Reading]) -> int:
    return max(reading.day for reading in readings)


def _weights(readings: list[Reading], day: int) -> list[float]:
    """What each still weighs on a day: less for each newer one, and by half after so many days."""
    count = len(readings)
    return [
        _EACH_NEWER_LEAVES ** (count - 1 - nth) * 0.5 ** ((day - reading.day) / _HALF_LIFE_DAYS)
        for nth, reading in enumerate(readings)
    ]


def _times(readings: list[Reading], day: int) -> list[tuple[float, float]]:
    """The weight and the logarithm of each time to find; only newer times make one weigh less."""
    timed = [reading for reading in readings if reading.log_s is not None]
    return list(zip(_weights(timed, day), [reading.log_s for reading in timed], strict=True))


def _usual_times(items: Iterable[list[Reading]]) -> list[float]:
    """Of each item that was timed often enough the mean of the logarithms of its times."""
    found = []
    for readings in items:
        times = _times(readings, _last_day(readings))
        weight = fsum(weight for weight, _ in times)
        if weight >= 1:
            found.append(fsum(weight * log_s for weight, log_s in times) / weight)
    return found


def _costs(items: list[list[Reading]], usual: float, day: int) -> tuple[float, float, bool]:
    """Of items together: the seconds they take to find, what they cost with wrong answers, and whether those are many.

    One reading is imagined in the usual time, and two of which four in five are right.
    """
    times = [time for readings in items for time in _times(readings, day)]
    find_s = exp((usual + fsum(w * log_s for w, log_s in times)) / (1 + fsum(w for w, _ in times)))
    weighed = [(w, one.right) for readings in items for w, one in zip(_weights(readings, day), readings, strict=True)]
    right = fsum(weight for weight, is_right in weighed if is_right)
    wrong = fsum(weight for weight, is_right in weighed if not is_right)
    cost_s = find_s * (1 + 2 * (wrong + 0.4) / (right + wrong + 2))
    return find_s, cost_s, len(weighed) >= 3 and right < _OFTEN_RIGHT * (right + wrong)
