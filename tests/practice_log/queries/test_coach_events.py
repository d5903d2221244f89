"""What the coach heard, out of the log."""

import pytest

from game.coach.stages import Stage
from game.judging.letters import begin_naming, finish_naming, give_name
from game.music.names import spelling_of
from game.practice_log.database.store import open_store
from game.practice_log.rows.decision_rows import coach_result
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import NameGiven, Terms
from game.practice_log.rows.played_rows import put_name
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.coached_takes import FACTS, Practice, some_days
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended
from tests.practice_log.read_back import decisions_of


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def test_replay_can_go_on_from_where_it_was(log):
    some_days(log)
    every = decisions_of(log, PLAYER.uuid)
    assert decisions_of(log, PLAYER.uuid, after=every[4].number) == every[5:]


def test_what_the_coach_heard_of_a_take_in_letters_is_worked_out_from_its_names(log):
    practice = Practice(log)
    take = begun(Terms(stage=Stage.LETTERS))
    number = put_take(log, take, DEVICE)
    naming = begin_naming([note.note for note in take.asked.notes], now_s=0.0)
    for at_s, note in enumerate(take.asked.notes[:5], start=1):
        name = spelling_of(note.note.pitch)
        naming, _ = give_name(naming, name, now_s=at_s)
        put_name(log, number, NameGiven(n=note.n, name=name, at_s=at_s))
    named = finish_naming(naming)
    put_ending(log, number, ended(named=named), DEVICE)
    result = coach_result(take, FACTS, day=1, named=named)
    assert (result.homes, result.clean, result.unread) == (5, 5, 1)
    practice.happen(result, number)
    (logged,) = decisions_of(log, PLAYER.uuid)
    assert logged.event == result
