"""Takes of long ago are judged again: beside the old judgements, once each, wherever it was ended before."""

import sqlite3
from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import pytest

from game.errors import LogError
from game.judging.version import JUDGE_VERSION
from game.practice_log.database.identity import Identity
from game.practice_log.database.own_device import OwnDevice
from game.practice_log.database.store import open_store
from game.practice_log.documents.take_in import gatherings
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import Outcome, Terms
from game.practice_log.rows.take_rows import put_take, takes_where
from game.practice_log.writing import judging_again
from game.practice_log.writing.judged_file import judged_path
from game.practice_log.writing.judging_again import (
    anything_to_judge,
    fold_due,
    judge_again,
    note_folded,
    refused_in_a_sentence,
)
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, notes_of
from tests.practice_log.old_takes import (
    in_time_take,
    old_judgement,
    played_by,
    put_judged,
    put_rushed,
)
from tests.refusing import refusal
from tests.sampling import sample

HERE = OwnDevice(uuid=DEVICE.uuid, name=DEVICE.name)
TOWER = Identity(uuid=UUID(int=12), name="the tower")
NOW = MORNING + timedelta(days=3)
DAY = 24 * 60


class Killed(BaseException):
    """The process ends in this moment."""


@pytest.fixture
def path(tmp_path):
    return tmp_path / "practice.sqlite"


@pytest.fixture
def log(path):
    log = open_store(path, now_utc=MORNING)
    yield log
    log.close()


def again(log, path, device=HERE):
    return judge_again(log, path, device, NOW)


def judges(log):
    return log.execute("SELECT take, judge FROM judgement ORDER BY take, judge").fetchall()


def words(log, take):
    return {verdict.verdict.value for verdict in judgement_of(log, take).verdicts}


def everything(log):
    """All rows of all judgements, by their take and judge."""
    return [
        log.execute(
            f"SELECT take, judge, {table}.* FROM judgement JOIN {table} USING (judgement) ORDER BY 1, 2, 4, 5"
        ).fetchall()
        for table in ("verdict", "answer", "event")
    ]


def without_numbers(rows):
    return [[row[:2] + row[3:] for row in table] for table in rows]


def test_the_new_judgement_stands_beside_the_old_one_which_stays(log, path):
    take = put_rushed(log)
    before = everything(log)
    assert anything_to_judge(log, path)
    assert again(log, path).added == 1
    assert judges(log) == [(take, 1), (take, JUDGE_VERSION)]
    assert words(log, take) <= {"clean", "early"}
    assert all(row in now for then, now in zip(before, everything(log), strict=True) for row in then)
    (logged,) = takes_where(log, "1", ())
    assert (logged.judge, logged.outcome) == (JUDGE_VERSION, Outcome.FINISHED)


def test_no_note_is_added_to_what_was_played(log, path):
    take = put_rushed(log)
    count = log.execute("SELECT COUNT(*) FROM played").fetchone()
    again(log, path)
    assert log.execute("SELECT COUNT(*) FROM played").fetchone() == count
    assert len(judgement_of(log, take).verdicts[5].answers) == 1


def test_it_is_done_once(log, path):
    put_rushed(log)
    assert again(log, path).added == 1
    assert not anything_to_judge(log, path) or fold_due(path)
    note_folded(path)
    assert not anything_to_judge(log, path)
    assert again(log, path).added == 0
    judged_path(path).unlink()
    assert again(log, path).added == 0, "nor where nobody remembers"


def test_which_takes_keep_what_they_have_is_counted_by_the_reason(log, path):
    put_rushed(log)
    marked = begun(Terms(stage=Terms(stage=in_time_take().terms.stage).stage, self_marked=True), minutes=20)
    put_judged(log, marked, (), old_judgement(marked, notes_of(marked)))
    nothing = in_time_take(30)
    put_judged(log, nothing, (), old_judgement(nothing, ()))
    back = in_time_take(40)
    played = played_by(back)
    put_judged(log, back, (*played[:30], *played[16:]), old_judgement(back, played))
    broken = put_rushed(log, 50)
    log.executescript(f"DROP TRIGGER verdict_no_delete; DELETE FROM verdict WHERE n = 9 AND judgement = {broken}")
    assert again(log, path).came_to == {
        "delivered": 1,
        "not heard": 1,
        "nothing played": 1,
        "went back": 1,
        "makes no sense": 1,
    }
    assert len(judges(log)) == 6


def test_a_take_whose_rows_make_no_sense_keeps_the_others_from_nothing(log, path):
    takes = [put_rushed(log, minutes) for minutes in (0, 10, 20)]
    log.executescript("DROP TRIGGER take_no_update; UPDATE take SET stage = 'dances' WHERE take = 2")
    assert again(log, path).came_to == {"delivered": 2, "makes no sense": 1}
    assert [judge for take, judge in judges(log) if take == takes[1]] == [1]


def test_a_take_under_way_or_judged_by_a_newer_program_is_left_alone(log, path):
    put_take(log, in_time_take(), DEVICE)
    take = put_rushed(log, 10, judge=JUDGE_VERSION + 1)
    before = judgement_of(log, take)
    assert again(log, path).added == 0
    assert judges(log) == [(take, JUDGE_VERSION + 1)]
    assert judgement_of(log, take) == before
    assert not anything_to_judge(log, path)


def test_takes_of_another_computer_are_left_to_it_unless_it_has_recorded_nothing_for_a_month(log, path):
    mine, theirs = put_rushed(log), put_rushed(log, 10, device=TOWER)
    assert again(log, path).added == 1
    assert (mine, JUDGE_VERSION) in judges(log)
    assert (theirs, JUDGE_VERSION) not in judges(log)
    put_rushed(log, 40 * DAY, judge=JUDGE_VERSION)
    assert again(log, path).added == 1
    assert (theirs, JUDGE_VERSION) in judges(log)


def test_takes_that_this_computer_recorded_under_other_ids_are_its_own(log, path):
    put_rushed(log)
    renewed = OwnDevice(uuid=UUID(int=99), name="new", before=(HERE,))
    assert again(log, path, renewed).added == 1


@pytest.mark.parametrize("left", sample(range(9), by_default=3))
def test_killed_anywhere_it_goes_on_and_comes_to_the_same(log, path, tmp_path, monkeypatch, left):
    """Killed at the so-manyth of all steps: between takes, between the commit and the word that it is done."""
    monkeypatch.setattr(judging_again, "_READ_AT_ONCE", 2)
    monkeypatch.setattr(judging_again, "_WRITTEN_AT_ONCE", 1)
    for minutes in (0, 10, 20):
        put_rushed(log, minutes)
    other = open_store(tmp_path / "other.sqlite", now_utc=MORNING)
    log.backup(other)
    with monkeypatch.context() as patch:
        steps = iter(range(100))

        def dying(call):
            def step(*args):
                if next(steps) == left:
                    raise Killed
                return call(*args)

            return step

        for name in ("keep", "delivered", "note"):
            patch.setattr(judging_again.JudgedFile, name, dying(getattr(judging_again.JudgedFile, name)))
        patch.setattr(judging_again, "_put", dying(judging_again._put))
        with pytest.raises(Killed):
            again(log, path)
    again(log, path)
    again(other, tmp_path / "other.sqlite")
    assert judges(log) == judges(other)
    assert len(judges(log)) == 6
    assert without_numbers(everything(log)) == without_numbers(everything(other))
    other.close()


def test_two_computers_that_judge_the_same_take_at_once_say_the_same(log, path, tmp_path):
    put_rushed(log)
    other = open_store(tmp_path / "other.sqlite", now_utc=MORNING)
    log.backup(other)
    again(log, path)
    again(other, tmp_path / "other.sqlite")
    assert judgement_of(log, 1) == judgement_of(other, 1)
    other.close()


def test_takes_that_came_from_elsewhere_since_are_looked_at(log, path):
    put_rushed(log)
    again(log, path)
    note_folded(path)
    assert not anything_to_judge(log, path)
    log.execute(f"PRAGMA user_version = {gatherings(log) + 1}")
    assert anything_to_judge(log, path)


def test_a_full_disk_is_one_sentence_and_nothing_is_lost(log, path):
    takes = [put_rushed(log, minutes) for minutes in range(0, 80, 10)]
    before = everything(log)
    (pages,) = log.execute("PRAGMA page_count").fetchone()
    log.execute(f"PRAGMA max_page_count = {pages}")
    with refusal(LogError, r"cannot be judged again now \(disk full\): they keep the verdicts they have"):
        again(log, path)
    assert everything(log) == before
    log.execute("PRAGMA max_page_count = 1000000")
    assert again(log, path).added == len(takes)
    assert all(words(log, take) <= {"clean", "early"} for take in takes)


def test_a_log_that_may_only_be_read_or_is_held_is_one_sentence(log, path):
    put_rushed(log)
    log.execute("PRAGMA query_only = ON")
    with refusal(LogError, r"cannot be judged again now \(it is read-only\)"):
        again(log, path)
    log.execute("PRAGMA query_only = OFF")
    log.execute("PRAGMA busy_timeout = 0")
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with refusal(LogError, "cannot be judged again now"):
        again(log, path)
    other.close()
    assert again(log, path).added == 1


def test_where_the_file_beside_the_log_cannot_be_written_nothing_is_judged_and_that_is_said(log, path):
    put_rushed(log)
    judged_path(path).mkdir()
    with refusal(LogError, "cannot be judged again now"):
        again(log, path)
    with refusal(LogError, "cannot be judged again now"):
        fold_due(path)
    assert not anything_to_judge(log, path)
    assert judges(log) == [(1, 1)]


def test_any_fault_of_disk_or_log_is_a_sentence_and_no_other_is():
    with refusal(LogError, "cannot be judged again now"), refused_in_a_sentence():
        raise OSError(28, "No space left on device")
    with pytest.raises(ValueError, match="ours"), refused_in_a_sentence():
        raise ValueError("ours")


def test_a_take_that_was_cut_short_stays_cut_short(log, path):
    take = in_time_take()
    played = played_by(take, faster=0.03, count=40)
    number = put_judged(log, take, played, old_judgement(take, played), outcome=Outcome.CUT_SHORT)
    assert again(log, path).added == 1
    (logged,) = takes_where(log, "1", ())
    assert logged.outcome is Outcome.CUT_SHORT
    told = [verdict.verdict.value for verdict in judgement_of(log, number).verdicts]
    assert told[40:] == ["unread"] * 24
    assert replace(logged.begun, sighting=take.sighting) == take
