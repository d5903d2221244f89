"""How far a log goes."""

import pytest

from game.coach.coach import advance
from game.coach.events import PassageFacts, PassageOpened
from game.coach.records import CoachState
from game.practice_log.database.store import open_store
from game.practice_log.queries.log_position import (
    LogPosition,
    holds_event,
    holds_judgement,
    newest_event,
    newest_judgement,
)
from game.practice_log.rows.decision_rows import put_decision
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.row_values import utc_text
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, recorded


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def judge(log, minutes):
    put_ending(log, put_take(log, begun(minutes=minutes), DEVICE), ended(minutes=minutes + 1), DEVICE)


def hear(log):
    event = PassageOpened(passage=PassageFacts(name="ford"), day=1)
    put_decision(log, recorded(log), event, advance(CoachState(), event)[1], None)


def test_an_empty_log_goes_nowhere_and_every_log_holds_that(log):
    assert newest_judgement(log) == newest_event(log) == LogPosition() == (0, "")
    assert holds_judgement(log, LogPosition())
    assert holds_event(log, LogPosition())


def test_it_goes_to_the_judgement_that_came_last_and_holds_those_before(log):
    judge(log, 0)
    first = newest_judgement(log)
    judge(log, 10)
    assert newest_judgement(log).number == first.number + 1
    assert holds_judgement(log, first)
    assert holds_judgement(log, newest_judgement(log))
    assert not holds_judgement(log, LogPosition(99, first.witness))


def test_another_log_with_as_many_judgements_is_not_taken_for_this_one(log):
    judge(log, 0)
    other = open_store(None, now_utc=MORNING)
    judge(other, 3)
    assert newest_judgement(other).number == newest_judgement(log).number
    assert not holds_judgement(other, newest_judgement(log))
    other.close()


def test_what_the_coach_heard_is_counted_by_itself(log):
    judge(log, 0)
    assert newest_event(log) == LogPosition()
    hear(log)
    assert newest_event(log) == (1, utc_text(MORNING))
    assert holds_event(log, newest_event(log))
