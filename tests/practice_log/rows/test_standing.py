"""Which judgement of a take stands."""

from dataclasses import replace
from uuid import UUID

import pytest

from game.judging.version import JUDGE_VERSION
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.standing import standing
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of

TAKE = begun()
TOWER = Identity(uuid=UUID(int=12), name="the tower")


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    put_take(log, TAKE, DEVICE)
    yield log
    log.close()


def judge(log, minutes, wrong=(), judge=JUDGE_VERSION, device=DEVICE):
    put_ending(log, 1, replace(ended(judged(TAKE, notes_of(TAKE, wrong=wrong)), minutes=minutes), judge=judge), device)


def stands(log):
    return log.execute(f"SELECT {standing('take.take')} FROM take").fetchone()[0]


def test_a_take_without_a_judgement_has_none_that_stands(log):
    assert stands(log) is None
    assert judgement_of(log, 1) is None


def test_that_of_the_newest_judge_stands_though_an_older_program_judged_later(log):
    judge(log, 1, judge=JUDGE_VERSION + 1)
    judge(log, 9, wrong={1})
    assert stands(log) == 1
    (logged,) = takes_where(log, "1", ())
    assert logged.judge == JUDGE_VERSION + 1
    assert judgement_of(log, 1) == judged(TAKE, notes_of(TAKE))


def test_of_two_by_one_judge_the_one_made_last_stands_whatever_their_rows(log):
    judge(log, 9, wrong={1, 2}, device=TOWER)
    judge(log, 5, wrong={1})
    assert stands(log) == 1
    judge(log, 12)
    assert stands(log) == 3
