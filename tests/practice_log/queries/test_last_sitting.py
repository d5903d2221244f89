"""The takes of the last day of practice, as far as one fact is told of them."""

from dataclasses import replace
from datetime import timedelta

import pytest

from game.coach.stages import Pulse, Stage
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.practice_log.database.store import open_store
from game.practice_log.queries.last_sitting import longest_run, takes_of_last_day
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Terms
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

TODAY = MORNING.date().toordinal()
IN_TIME = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def put(log, terms, *, days=0, **how):
    take = replace(begun(terms), started_at=MORNING + timedelta(days=days))
    ending = ended(judged(take, notes_of(take, **how)), minutes=1440 * days + 1)
    put_ending(log, put_take(log, take, DEVICE), ending, DEVICE)


def test_only_the_last_day_before_is_told_of_the_newest_take_last(log):
    put(log, Terms(stage=Stage.PLACES), days=0)
    put(log, Terms(stage=Stage.PLACES), days=3)
    put(log, Terms(stage=Stage.PLACES), days=3, wrong={2})
    put(log, IN_TIME, days=5)
    found = takes_of_last_day(log, PLAYER.uuid, TODAY + 5)
    assert [(take.day - TODAY, take.found, take.bpm) for take in found] == [(3, True, None), (3, False, None)]
    assert takes_of_last_day(log, PLAYER.uuid, TODAY) == ()
    assert takes_of_last_day(log, DEVICE.uuid, TODAY + 9) == ()


def test_a_clean_take_with_the_metronome_is_kept_and_one_by_own_word_is_not(log):
    for terms, word in (
        (IN_TIME, Verdict.CLEAN),
        (replace(IN_TIME, self_marked=True), Verdict.CLEAN),
        (IN_TIME, Verdict.LATE),
    ):
        take = begun(terms)
        verdicts = tuple(NoteVerdict(n=note.note.n, verdict=word, offset_ms=0.0) for note in take.asked.notes)
        put_ending(log, put_take(log, take, DEVICE), ended(Judgement(verdicts=verdicts)), DEVICE)
    assert [(take.kept, take.bpm) for take in takes_of_last_day(log, PLAYER.uuid, TODAY + 1)] == [
        (True, 66), (False, 66), (False, 66),
    ]  # fmt: skip


def test_the_longest_run_is_broken_by_a_wrong_note_and_not_by_a_late_one():
    words = [Verdict.CLEAN, Verdict.LATE, Verdict.MISSED, Verdict.CLEAN, Verdict.EARLY, Verdict.CLEAN, Verdict.UNREAD]
    verdicts = tuple(NoteVerdict(n=n, verdict=verdict) for n, verdict in enumerate(words, start=1))
    assert longest_run(Judgement(verdicts=verdicts)) == 3
    assert longest_run(Judgement(verdicts=())) == 0
