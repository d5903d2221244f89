"""The three marks."""

from dataclasses import replace

from game.coach.coach import advance, replayed
from game.coach.decisions import Offer
from game.coach.mark_rules import sign_off
from game.coach.marks import Mark, is_signed_off
from game.coach.records import CoachState
from game.text.catalogue import tell_all
from tests.coach.coach_takes import take


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


def test_a_note_away_from_its_home_on_both_days_is_as_a_wrong_one():
    away = replace(take(1, bpm=96), wrong_notes=frozenset(), other_place_notes=frozenset({1}))
    assert not is_signed_off(halves(away, replace(away, day=2)))
    assert not is_signed_off(halves(away, take(1, bpm=96, day=2)))
    assert is_signed_off(halves(away, take(bpm=96, day=2)))


def at(day, clock, wrong=0):
    hour, minute = map(int, clock.split(":"))
    return take(wrong, bpm=96, day=day, minute=60 * hour + minute)


def test_late_in_the_evening_and_after_midnight_is_one_sitting():
    assert not is_signed_off(halves(at(1, "23:50"), at(2, "0:10")))
    assert not is_signed_off(halves(at(1, "21:00"), at(2, "2:59")))
    assert is_signed_off(halves(at(1, "21:00"), at(2, "3:00")))
    assert is_signed_off(halves(at(1, "23:50"), at(2, "0:10"), at(3, "0:15")))
    assert not is_signed_off(halves(at(2, "0:10"), at(1, "23:50"))), "a zone farther west"


def test_who_signs_off_around_midnight_is_told_that_a_night_is_missing_and_then_has_it():
    state, decision = advance(CoachState(), at(1, "23:50"))
    state, decision = advance(state, at(2, "0:10"))
    assert Mark.SIGNED_OFF not in decision.earned
    assert decision.reason[1].key == "coach.once_more_after_a_night"
    state, decision = advance(state, at(3, "0:10"))
    assert Mark.SIGNED_OFF in decision.earned


def test_of_too_few_notes_a_longer_passage_is_asked_for_once_a_day_and_not_a_sign_off():
    state = CoachState()
    for day in (1, 2, 3):
        state, decision = advance(state, take(notes=5, bpm=96, day=day))
        assert Mark.SIGNED_OFF not in decision.earned
        assert decision.offer is Offer.SIBLING
        assert tell_all(decision.reason).endswith(
            "Five notes are too few to sign off: take more bars, eight notes at least. Other music now."
        )
    _, decision = advance(state, take(notes=5, bpm=96, day=3))
    assert decision.reason[1].key != "coach.too_short_to_sign_off"


def test_an_old_half_that_was_right_and_not_in_time_is_none():
    """It was said before that one more would do; a sign-off that is false is worse than one more day."""
    _, decision = advance(replayed([take(bpm=96, off_time=20)]), take(bpm=96, day=2))
    assert Mark.SIGNED_OFF not in decision.earned


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


def test_a_note_away_from_its_home_both_times_is_not_called_wrong():
    """Beside "all ten right in pitch" that would be untrue."""
    away = replace(take(notes=10, bpm=96), clean=9, other_place_notes=frozenset({4}))
    state, _ = advance(CoachState(), away)
    _, decision = advance(state, replace(away, day=2))
    assert Mark.SIGNED_OFF not in decision.earned
    assert tell_all(decision.reason).endswith(
        "But a note was away from its home that was not right last time either: look at that one alone."
    )
