"""A log comes up to date step by step, keeps what it holds, and is only ever added to."""

import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from game.errors import LogError
from game.judging.untimed import HintStep
from game.judging.verdicts import Cause, Verdict
from game.practice_log.database.migrations import MIGRATIONS, Migration, applied, migrate, transaction
from game.practice_log.database.store import open_store
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.rows.take_rows import put_take
from game.text.catalogue import tell
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, judged, notes_of, takes_of_bars
from tests.refusing import refusal

VERSION_1 = (Path(__file__).parent / "version_1.sql").read_text(encoding="utf-8")


@pytest.fixture
def connection():
    with_nothing = sqlite3.connect(":memory:", isolation_level=None)
    yield with_nothing
    with_nothing.close()


def saved(path, script):
    file = sqlite3.connect(path)
    file.executescript(script)
    file.close()
    return path


def tables(connection):
    return {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}


def test_a_new_log_goes_through_all_migrations_in_order(connection):
    migrate(connection, now_utc=MORNING)
    assert applied(connection) == tuple(migration.name for migration in MIGRATIONS)
    (when,) = connection.execute("SELECT DISTINCT applied_utc FROM migration").fetchone()
    assert when == "2026-11-25T07:30:00.000000Z"


def test_a_log_that_is_up_to_date_is_left_alone(connection):
    migrate(connection, now_utc=MORNING)
    before = connection.total_changes
    migrate(connection, now_utc=MORNING)
    assert connection.total_changes == before


def test_a_log_that_tests_copy_is_the_one_that_came_about_step_by_step(connection):
    migrate(connection, now_utc=MORNING)
    copied = open_store(None, now_utc=MORNING)
    assert list(copied.iterdump()) == list(connection.iterdump())
    copied.close()


def test_a_step_that_fails_leaves_neither_tables_nor_a_record(connection):
    faulty = Migration("half", "CREATE TABLE first (a);\nCREATE TABLE first (a);\n")
    with pytest.raises(sqlite3.OperationalError, match="already exists"):
        migrate(connection, now_utc=MORNING, migrations=(*MIGRATIONS, faulty))
    assert applied(connection) == tuple(migration.name for migration in MIGRATIONS)
    assert "first" not in tables(connection)
    assert not connection.in_transaction


def test_a_log_of_a_newer_program_is_refused_in_one_sentence_and_left_as_it_is(tmp_path):
    path = tmp_path / "practice.sqlite"
    newer = open_store(path, now_utc=MORNING)
    newer.execute("INSERT INTO migration (name, applied_utc) VALUES ('dances', '2031-01-01T00:00:00.000000Z')")
    newer.close()
    with refusal(LogError, r"written by a newer Homefret.*'dances'.*update Homefret") as refused:
        open_store(path, now_utc=MORNING)
    assert "\n" not in tell(refused.value.message)
    file = sqlite3.connect(path)
    assert applied(file)[-1] == "dances"
    file.close()


def test_a_log_of_the_first_version_opens_with_its_take(tmp_path):
    path = saved(tmp_path / "practice.sqlite", VERSION_1)
    log = open_store(path, now_utc=MORNING)
    assert applied(log) == tuple(migration.name for migration in MIGRATIONS)
    (take,) = takes_of_bars(log, PLAYER.uuid, begun().bars.passage_key)
    assert take.begun == begun()
    raw = raw_take(log, take.take)
    assert raw.played == notes_of(begun(), wrong={3})
    assert [(given.n, given.step, given.at_s) for given in raw.helped] == [(5, HintStep.LETTER, 5.5)]
    judgement = judgement_of(log, take.take)
    now = judged(begun(), notes_of(begun(), wrong={3}))
    # A fret above A4 is B flat's own home. The first judge called that a slip, and so it stays written; it
    # tried the lines beside a note without their own signature, which judges of today do.
    assert (take.judge, now.verdicts[2].cause) == (1, Cause.NEIGHBOUR)
    as_then = replace(now.verdicts[2], cause=Cause.SLIP)
    assert judgement == replace(now, verdicts=(*now.verdicts[:2], as_then, *now.verdicts[3:]))
    assert as_then.verdict is Verdict.WRONG_PITCH
    log.close()


def test_a_log_of_the_first_version_has_the_same_tables_afterwards_as_a_new_one(tmp_path, connection):
    migrate(connection, now_utc=MORNING)
    old = open_store(saved(tmp_path / "practice.sqlite", VERSION_1), now_utc=MORNING)
    schema = "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY type, name"
    plain = [(kind, name, sql.replace('"', "")) for kind, name, sql in connection.execute(schema)]
    assert [(kind, name, sql.replace('"', "")) for kind, name, sql in old.execute(schema)] == plain
    old.close()


def test_every_table_of_facts_refuses_to_be_changed_or_emptied(connection):
    migrate(connection, now_utc=MORNING)
    facts = tables(connection) - {"migration", "sqlite_sequence", "unread", "taken_in"}
    triggers = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
    assert triggers == {f"{table}_no_{verb}" for table in facts for verb in ("update", "delete")}


@pytest.mark.parametrize("statement", ["UPDATE take SET heard = 1", "DELETE FROM take"])
def test_what_is_in_the_log_stays_as_it_is(connection, statement):
    migrate(connection, now_utc=MORNING)
    put_take(connection, begun(), DEVICE)
    with pytest.raises(sqlite3.IntegrityError, match="the practice log is only added to"):
        connection.execute(statement)


def test_an_entry_becomes_what_it_is_once_that_is_known_and_nothing_else(connection):
    migrate(connection, now_utc=MORNING)
    put_take(connection, begun(), DEVICE)
    with pytest.raises(sqlite3.IntegrityError, match="the practice log is only added to"):
        connection.execute("UPDATE entry SET kind = 'fact'")
    connection.execute(
        "INSERT INTO entry SELECT 2, device, 2, at_us, zone_minutes, player, 'unread', 1, moment_us FROM entry"
    )
    connection.execute("UPDATE entry SET kind = 'fact' WHERE kind = 'unread'")
    assert connection.execute("SELECT kind FROM entry ORDER BY entry").fetchall() == [("take",), ("fact",)]


def test_what_fails_in_the_middle_leaves_nothing_behind(connection):
    migrate(connection, now_utc=MORNING)

    def half_way():
        with transaction(connection):
            put_take(connection, begun(), DEVICE)
            raise KeyError("half way")

    with pytest.raises(KeyError, match="half way"):
        half_way()
    assert connection.execute("SELECT count(*) FROM take").fetchone() == (0,)
