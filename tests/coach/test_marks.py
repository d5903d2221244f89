"""The three marks."""

from dataclasses import replace

import pytest

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.marks import Mark, is_found, is_in_time, is_signed_off, sign_off, wrong_let_pass
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.text.catalogue import tell_all
from tests.coach.coach_takes import PASSAGE, take


def test_found_is_every_note_at_its_home_without_a_clock():
    assert is_found(take())
    assert not is_found(take(1))
    assert not is_found(take(unread=1))
    assert not is_found(take(bpm=60, stage=Stage.PLACES)), "a note a click"
    assert not is_found(take(bpm=60))
    assert not is_found(replace(take(1), other_place_notes=frozenset({1}), wrong_notes=frozenset()))


def test_in_time_is_a_clean_take_at_any_tempo_from_30():
    assert is_in_time(take(3, bpm=50))
    assert not is_in_time(take(4, bpm=50)), "0.875 is not clean"
    assert is_in_time(take(bpm=30))
    assert not is_in_time(take(bpm=29))
    assert not is_in_time(take(stage=Stage.TIME)), "no metronome"
    assert not is_in_time(take(bpm=60, stops=1))
    assert not is_in_time(take(bpm=60, off_time=16)), "half of it beside the beat"


@pytest.mark.parametrize(("notes", "wrong"), [(8, 1), (19, 1), (20, 1), (32, 1), (40, 2), (59, 2), (60, 3)])
def test_the_wrong_notes_let_pass_are_one_below_twenty_and_one_in_twenty_above(notes, wrong):
    assert wrong_let_pass(notes) == wrong


def test_a_sign_off_wants_the_days_first_take_at_the_target_clean_and_without_a_stop():
    good = take(1, bpm=96)
    assert sign_off(good, first_today=True) is not None
    assert sign_off(good, first_today=False) is None
    for spoilt in (take(1, bpm=95), take(2, bpm=96), take(bpm=96, stops=1), take(bpm=96, restarts=1)):
        assert sign_off(spoilt, first_today=True) is None


def test_without_a_target_tempo_nothing_is_signed_off():
    assert sign_off(take(bpm=200, passage=replace(PASSAGE, target_bpm=None)), first_today=True) is None


def halves(*takes):
    return tuple(sign_off(each, first_today=True) for each in takes)


def test_signed_off_wants_two_different_days():
    assert not is_signed_off(halves(take(bpm=96)))
    assert not is_signed_off(halves(take(bpm=96), take(bpm=96)))
    assert is_signed_off(halves(take(bpm=96), take(bpm=96, day=4)))


def test_a_note_wrong_on_both_days_is_not_signed_off_but_a_later_day_can_mend_it():
    same = halves(take(1, bpm=96), take(1, bpm=96, day=2))
    assert not is_signed_off(same)
    assert is_signed_off((*same, *halves(take(bpm=96, day=3))))


def test_marks_are_earned_once_and_announced_with_the_take_that_earned_them():
    state, earned = CoachState(), []
    takes = [take(), take(), take(bpm=60), take(bpm=60), take(bpm=96, day=2), take(bpm=96, day=3)]
    for each in takes:
        state, decision = advance(state, each)
        earned.append(decision.earned)
    assert earned == [(Mark.FOUND,), (), (Mark.IN_TIME,), (), (), (Mark.SIGNED_OFF,)]


def test_after_a_clean_take_at_the_target_the_next_one_waits_for_another_day():
    state, decision = advance(CoachState(), take(bpm=96))
    assert decision.offer is Offer.SIBLING
    assert tell_all(decision.reason).endswith(
        "Once more like that on another day, and it is signed off. Other music now."
    )
    _, decision = advance(state, take(bpm=96, day=2))
    assert tell_all(decision.reason).endswith("Signed off. On to other music.")


def test_a_note_wrong_both_times_is_named_for_review():
    state, _ = advance(CoachState(), take(1, bpm=96))
    _, decision = advance(state, take(1, bpm=96, day=2))
    assert decision.to_review == (1,)
    assert Mark.SIGNED_OFF not in decision.earned
    assert "wrong last time too" in tell_all(decision.reason)
