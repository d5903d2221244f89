"""Marks are earned once and for good; what the coach said when it was played stays."""

from dataclasses import replace

import pytest

from game.coach.coach import replayed
from game.coach.mark_update import with_marks
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.coach.record_update import updated_record
from game.coach.records import PassageRecord
from game.coach.stages import Stage
from tests.coach.coach_takes import PASSAGE, take


def test_a_take_that_earns_nothing_leaves_the_record_as_it_is():
    record = PassageRecord(facts=PASSAGE)
    assert with_marks(record, take(9, sighting=4), first_today=True, numbers=NUMBERS) is record


def test_a_mark_by_the_players_own_word_is_one_until_a_take_that_was_heard_earns_it_too():
    told = with_marks(PassageRecord(facts=PASSAGE), take(self_marked=True), first_today=True, numbers=NUMBERS)
    assert (told.marks, told.marks_by_word) == ((Mark.FOUND,), (Mark.FOUND,))
    heard = with_marks(told, take(), first_today=True, numbers=NUMBERS)
    assert (heard.marks, heard.marks_by_word) == ((Mark.FOUND,), ())


def test_what_the_coach_said_was_earned_stays_whatever_the_rules_of_now():
    late = [take(bpm=96, day=day, off_time=32) for day in (1, 2)]
    told = [late[0], replace(late[1], told=(Mark.IN_TIME, Mark.SIGNED_OFF))]
    assert replayed(late).records["blue bars"].marks == ()
    assert replayed(told).records["blue bars"].marks == (Mark.IN_TIME, Mark.SIGNED_OFF)


@pytest.mark.parametrize(
    ("mark", "impossible"),
    [
        (Mark.FOUND, take(bpm=96)),
        (Mark.IN_TIME, take()),
        (Mark.IN_TIME, take(stage=Stage.TIME)),
        (Mark.SIGNED_OFF, take()),
        (Mark.SIGNED_OFF, take(bpm=95)),
        (Mark.SIGNED_OFF, take(bpm=200, passage=replace(PASSAGE, target_bpm=None))),
    ],
)
def test_a_mark_that_no_take_of_its_kind_can_earn_is_not_believed(mark, impossible):
    assert mark not in replayed([replace(impossible, told=(mark,))]).records["blue bars"].marks


def test_what_is_signed_off_by_practice_alone_was_not_read():
    record = PassageRecord(facts=PASSAGE)
    for day in (1, 2):
        record = updated_record(record, take(day=day, bpm=96, sighting=8, wrong_notes=frozenset()), ())
    assert Mark.SIGNED_OFF in record.marks
    assert record.read_day is None


def test_bars_are_read_once_and_never_again():
    record = updated_record(PassageRecord(facts=PASSAGE), take(day=3, sighting=1), ())
    assert record.read_day == 3
    assert updated_record(record, take(day=4, sighting=2), ()).read_day == 3
