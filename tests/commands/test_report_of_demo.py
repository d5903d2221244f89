"""Weeks of practice simulated by command, and the report over them, recounted from the raw log row by row.

By default the weeks are fewer than the four that the report looks back on; in CI it is a month.
"""

import sqlite3
import statistics
from collections import Counter, defaultdict
from contextlib import closing
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from tests.commands.plain_slow_notes import plain_slow_notes
from tests.commands.running import answer
from tests.practice_log.plain_sightings import put_plain_sightings
from tests.sampling import how_many

DAYS = how_many(30, by_default=4)
PAUSE_MS = 10_000


@pytest.fixture(scope="module")
def practised(tmp_path_factory):
    """The days of practice; the answers of `demo` and of `report`, and the raw log."""
    folder = tmp_path_factory.mktemp("days")
    demo = answer("demo", "--fast", "--days", DAYS, "--out", folder / "demo")
    words = ("report", "--from", folder / "demo", "--out", folder / "page" / "index.html")
    last_day = answer(*words)["students"][0]["last_day"]
    (student,) = answer(*words, "--today", last_day)["students"]
    with closing(sqlite3.connect(folder / "demo" / "practice.sqlite")) as log, log:
        put_plain_sightings(log)
        log.row_factory = sqlite3.Row
        yield demo, student, log


def _local_day(utc):
    return datetime.fromisoformat(utc).astimezone().date()


def _read_notes(log, student):
    """Every note of the last four weeks in a take that counts as reading, with what was asked and the take."""
    after = date.fromisoformat(student["last_day"]) - timedelta(days=28)
    rows = log.execute(
        "SELECT t.started_utc, t.stage, t.take, a.n, a.written, a.string, a.fret, a.sounding, "
        "v.verdict, v.cause, v.time_to_find_ms "
        "FROM verdict v JOIN judgement j ON j.judgement = v.judgement JOIN take t ON t.take = j.take "
        "JOIN asked_note a ON a.asked = t.asked AND a.n = v.n JOIN plain_sighting s ON s.take = t.take "
        "WHERE s.nth IN (1, 2) AND s.heard = 0 AND s.known = 0 "
        "AND t.stage IN ('places', 'time', 'sight') ORDER BY t.take, a.n"
    )
    return [row for row in rows if _local_day(row["started_utc"]) > after]


def test_most_of_so_many_days_are_practised_and_what_is_met_first_does_not_come_all_right(practised):
    demo, _, _ = practised
    days = {take["day"] for take in demo["takes"]}
    assert days <= set(range(1, DAYS + 1))
    assert len(days) >= 0.5 * DAYS
    sight = [take for take in demo["takes"] if take["stage"] == "sight"]
    assert 0.5 < sum(take["clean"] for take in sight) / sum(take["notes"] for take in sight) < 0.95


def test_days_takes_and_minutes_are_those_of_the_log(practised):
    demo, student, log = practised
    rows = log.execute("SELECT started_utc, ended_utc FROM take JOIN judgement USING (take)").fetchall()
    minutes = [
        (datetime.fromisoformat(row["ended_utc"]) - datetime.fromisoformat(row["started_utc"])) / timedelta(minutes=1)
        for row in rows
    ]
    assert len(rows) == len(demo["takes"]) == sum(passage["takes"] for passage in student["passages"])
    assert min(minutes) > 0
    assert student["minutes"] == pytest.approx(sum(minutes), abs=0.02)
    days = {_local_day(row["started_utc"]) for row in rows}
    assert student["days"] == len(days) == len({take["day"] for take in demo["takes"]})
    assert student["last_day"] == max(days).isoformat()


def test_the_first_sight_score_is_that_of_the_log(practised):
    _, student, log = practised
    counted = Counter(row["verdict"] for row in _read_notes(log, student) if row["string"] is not None)
    clean = counted["clean"] + counted["early"] + counted["late"]
    read = counted.total() - counted["unread"]
    assert read > 50
    assert (student["first_sight"]["read"], student["first_sight"]["clean"]) == (read, clean)
    assert student["first_sight"]["share"] == pytest.approx(clean / read)


def test_pace_and_slow_notes_are_those_of_the_log(practised):
    _, student, log = practised
    found, read, clean = defaultdict(list), Counter(), Counter()
    before = (None, None, None)
    for row in _read_notes(log, student):
        note = (row["written"], row["string"], row["fret"])
        again = before == (row["take"], row["n"] - 1, row["sounding"])
        before = (row["take"], row["n"], row["sounding"])
        if row["string"] is None or row["verdict"] == "unread":
            continue
        read[note] += 1
        clean[note] += row["verdict"] in ("clean", "early", "late")
        time_ms = row["time_to_find_ms"]
        told = row["stage"] == "places" and row["n"] > 1 and not again and time_ms is not None and time_ms <= PAUSE_MS
        if told and row["verdict"] in ("clean", "early", "late"):
            found[note].append(time_ms)
    times = [time_ms for several in found.values() for time_ms in several]
    assert student["notes_a_second"] == pytest.approx(1000 * len(times) / sum(times))
    told = {(note["written"], note["string"], note["fret"]): note for note in student["slow_notes"]}
    assert list(told) == plain_slow_notes(log)
    for note, figures in told.items():
        assert (figures["read"], figures["clean"]) == (read[note], clean[note])
        if found[note]:
            assert figures["find_s"] == pytest.approx(statistics.median(found[note]) / 1000)


def test_of_somebody_who_searches_three_times_as_long_just_the_slow_notes_are_told_the_costliest_first(
    practised, tmp_path
):
    _, _, log = practised
    with closing(sqlite3.connect(tmp_path / "practice.sqlite")) as slower, slower:
        log.backup(slower)
        search_longer(slower, times=3)
        put_plain_sightings(slower)
        slower.row_factory = sqlite3.Row
        wanted = plain_slow_notes(slower)
    (student,) = answer("report", "--from", tmp_path, "--out", tmp_path / "page" / "index.html")["students"]
    assert [(note["written"], note["string"], note["fret"]) for note in student["slow_notes"]] == wanted
    assert len(wanted) > 5


def search_longer(log, *, times):
    """In a log, to which the program only adds."""
    guards = log.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'verdict'"
    ).fetchall()
    for name, _ in guards:
        log.execute(f"DROP TRIGGER {name}")
    log.execute("UPDATE verdict SET time_to_find_ms = time_to_find_ms * ?", (times,))
    for _, made in guards:
        log.execute(made)


def test_tempo_and_marks_of_the_passages_are_those_of_the_log(practised):
    _, student, log = practised
    last = {}
    for row in log.execute(
        "SELECT title, first, last, tempo_bpm FROM take JOIN bars USING (bars) JOIN judgement USING (take) "
        "WHERE stage IN ('time', 'sight') AND tempo_bpm IS NOT NULL ORDER BY take"
    ):
        last[row["title"], row["first"], row["last"]] = row["tempo_bpm"]
    assert last
    tempi = {(one["title"], *one["bars"]): one["tempo"] for one in student["passages"] if one["tempo"]}
    assert tempi == last
    earned = Counter()
    for row in log.execute("SELECT passage, earned FROM decision JOIN coach_event USING (coach_event, passage)"):
        for mark in ("found", "in time", "signed off"):
            if f'"{mark}"' in row["earned"]:
                earned[row["passage"], mark] = 1
    told = Counter(mark["mark"] for passage in student["passages"] for mark in passage["marks"])
    assert told == Counter(mark for _, mark in earned)
    assert told["found"] > 0
    assert all(date.fromisoformat(mark["day"]) for passage in student["passages"] for mark in passage["marks"])


def test_the_page_of_the_student_is_there(practised):
    _, student, _ = practised
    page = Path(student["files"][0]).read_text(encoding="utf-8")
    # The week's tunes stand on it; of a month the first may be signed off long ago.
    assert student["passages"][0]["title"] in page
    assert student["week"]["takes"] > 0
    assert f'<td data-label="this week">{student["week"]["takes"]:,}</td>' in page
