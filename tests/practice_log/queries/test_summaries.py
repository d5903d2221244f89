"""The sums of the log lie beside it, are kept up to date, and can be thrown away at any time."""

import sqlite3
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from statistics import mean, stdev

import pytest

from game.coach.stages import Pulse, Stage
from game.judging.verdicts import Verdict
from game.practice_log.database.migrations import transaction
from game.practice_log.database.store import open_store
from game.practice_log.queries.figures import figures_of
from game.practice_log.queries.summaries import takes_left
from game.practice_log.queries.sums_file import SUFFIX
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.log_records import Terms
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

TIMED = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)


@pytest.fixture(name="path")
def logged(tmp_path):
    path = tmp_path / "practice.sqlite"
    log = open_store(path, now_utc=MORNING)
    put(log, gap_s=0.7, wrong={2})
    put(log, days=1)
    put(log, TIMED, days=1, wrong={1, 2})
    log.close()
    return path


def put(log, terms=None, *, days=0, **how):
    take = replace(begun(terms or Terms(stage=Stage.PLACES)), started_at=MORNING + timedelta(days=days))
    number = put_take(log, take, DEVICE)
    minutes = 24 * 60 * days + 1
    put_ending(log, number, ended(judged(take, notes_of(take, **how)), minutes=minutes), DEVICE)
    return number


def test_notes_that_could_not_be_told_are_no_part_of_any_figure(tmp_path):
    log = open_store(tmp_path / "practice.sqlite", now_utc=MORNING)
    put(log, wrong={1}, unsure={2})
    put(log, days=1, unsure={2, 3, 4, 5})
    with figures_of(log, PLAYER.uuid) as figures:
        assert [(day.takes, day.read, day.clean) for day in figures.days()] == [(1, 5, 4), (1, 2, 2)]
        assert sum(note.read for note in figures.notes(figures.days()[0].day, 1)) == 5
        assert [(one.notes, one.clean) for one in figures.first_sights(9)] == [(5, 4)]
    log.close()


@pytest.mark.parametrize(("unsure", "clean_bpm"), [(set(), 66.0), ({6}, 66.0), ({1, 2}, None), ({1, 2, 3, 4, 5}, None)])
def test_no_tempo_is_clean_by_a_take_of_which_too_much_could_not_be_told(tmp_path, unsure, clean_bpm):
    log = open_store(tmp_path / "practice.sqlite", now_utc=MORNING)
    put(log, TIMED, unsure=unsure)
    with figures_of(log, PLAYER.uuid) as figures:
        assert [passage.clean_bpm for passage in figures.passages()] == [clean_bpm]
    log.close()


def opened(path):
    return open_store(path, now_utc=datetime.now(UTC))


def told(log):
    """All figures there are."""
    with figures_of(log, PLAYER.uuid) as figures:
        days = figures.days()
        return days, figures.notes(days[-1].day, 7), figures.passages(), figures.went_wrong(days[-1].day, 7)


def told_anew(path):
    """The figures without any sums kept."""
    log = opened(path)
    copy = sqlite3.connect(":memory:", isolation_level=None)
    log.backup(copy)
    log.close()
    found = told(copy)
    copy.close()
    return found


def test_sums_kept_tell_what_sums_made_anew_tell(path):
    log = opened(path)
    assert told(log) == told(log) == told_anew(path)
    assert path.with_name(path.name + SUFFIX).exists()
    assert [(day.takes, day.read, day.clean) for day in told(log)[0]] == [(1, 6, 5), (2, 6, 6)]
    log.close()


def test_what_was_judged_since_is_added_and_a_take_judged_again_counts_once(path):
    log = opened(path)
    told(log)
    assert takes_left(log, PLAYER.uuid) == 0
    put(log, days=2)
    assert takes_left(log, PLAYER.uuid) == 1
    first = takes_where(log, "1", ())[0]
    put_ending(log, first.take, ended(judged(first.begun, notes_of(first.begun)), minutes=3 * 24 * 60), DEVICE)
    assert takes_left(log, PLAYER.uuid) == 4, "what came after the take that was judged again is made again"
    days, *_ = told(log)
    assert [(day.takes, day.read, day.clean) for day in days] == [(1, 6, 6), (2, 6, 6), (1, 0, 0)]
    assert {round(day.minutes / day.takes, 3) for day in days} == {1.0}, "a take lasted until it was judged first"
    assert told(log) == told_anew(path)
    log.close()


@pytest.mark.parametrize("content", [b"no database", b"", b"SQLite format 3\x00" + bytes(600)])
def test_damaged_sums_are_made_again(path, content):
    log = opened(path)
    before = told(log)
    log.close()
    path.with_name(path.name + SUFFIX).write_bytes(content)
    log = opened(path)
    assert takes_left(log, PLAYER.uuid) == 3
    assert told(log) == told(log) == before
    assert takes_left(log, PLAYER.uuid) == 0
    log.close()


def test_sums_of_another_log_in_the_same_place_are_made_again(path):
    """A back-up was restored: its judgements have the same numbers."""
    log = opened(path)
    told(log)
    log.close()
    path.unlink()
    other = opened(path)
    for days in (3, 4, 5):
        put(other, days=days)
    assert takes_left(other, PLAYER.uuid) == 3
    assert told(other) == told_anew(path)
    other.close()


def test_sums_of_other_rules_are_made_again(path, monkeypatch):
    log = opened(path)
    told(log)
    monkeypatch.setattr("game.practice_log.queries.summaries.MOST_MINUTES", 0.5)
    assert takes_left(log, PLAYER.uuid) == 3
    assert {day.minutes / day.takes for day in told(log)[0]} == {0.5}
    log.close()


def test_sums_that_another_program_holds_are_made_in_memory(path):
    log = opened(path)
    before = told(log)
    put(log, days=2)
    holder = sqlite3.connect(path.with_name(path.name + SUFFIX), isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    log.execute("PRAGMA busy_timeout = 1")
    assert len(told(log)[0]) == len(before[0]) + 1
    holder.execute("ROLLBACK")
    holder.close()
    log.close()


def test_while_sums_are_asked_the_log_can_be_written(path):
    reader, writer = opened(path), opened(path)
    with figures_of(reader, PLAYER.uuid) as figures:
        with transaction(writer):
            put_take(writer, begun(), DEVICE)
        assert len(figures.days()) == 2
    reader.close()
    writer.close()


def test_notes_a_second_and_where_they_surely_lie_are_those_of_the_single_times(path):
    """Against the standard library's mean and standard deviation (`statistics`) of the times as they were judged."""
    log = opened(path)
    day = told(log)[0][0]
    first = takes_where(log, "1", ())[0]
    times = [
        verdict.time_to_find_ms / 1000
        for verdict in judgement_of(log, first.take).verdicts
        if verdict.verdict is Verdict.CLEAN and verdict.n > 1
    ]
    assert day.notes_a_second == pytest.approx(1 / mean(times))
    reach = 1.959964 * stdev(times) / len(times) ** 0.5
    assert day.pace_interval == pytest.approx((1 / (mean(times) + reach), 1 / (mean(times) - reach)))
    log.close()
