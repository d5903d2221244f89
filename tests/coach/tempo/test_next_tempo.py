"""The next tempo."""

from dataclasses import replace

import pytest

from game.coach.numbers import NUMBERS
from game.coach.records import PassageRecord, Tally
from game.coach.tempo.next_tempo import TempoReason, settling_tempo, surely_below, tempo_after_take, tempo_on_new_day
from game.coach.tempo.steady_tempo import prior
from tests.coach.coach_takes import PASSAGE, take

OPEN = replace(PASSAGE, target_bpm=None)
CLEAN = Tally(32, 32)


def record(bpm, spread, recent=(CLEAN,), passage=OPEN, **changes):
    return PassageRecord(facts=passage, belief=prior(bpm, spread), recent=recent, **changes)


def test_while_far_off_it_climbs_by_at_most_a_quarter():
    step = tempo_after_take(record(150, 0.2), take(bpm=60))
    assert (step.bpm, step.why) == (75, TempoReason.HELD)


def test_once_close_it_climbs_by_at_most_8_per_cent():
    assert tempo_after_take(record(150, 0.05), take(bpm=100)).bpm == 108


def test_it_is_the_fastest_whole_tempo_with_an_even_chance_of_staying_clean():
    assert tempo_after_take(record(104.5, 0.05), take(bpm=100)).bpm == 104


def test_a_take_that_falls_apart_brings_it_down_by_at_least_a_tenth_at_once():
    step = tempo_after_take(record(150, 0.05), take(9, bpm=100))
    assert (step.bpm, step.why) == (90, TempoReason.FELL_APART)
    assert tempo_after_take(record(69.5, 0.05), take(9, bpm=100)).bpm == 69


def test_a_note_in_another_place_does_not_slow_it():
    strayed = replace(take(10, bpm=100), other_place_notes=frozenset(range(1, 11)), wrong_notes=frozenset())
    assert tempo_after_take(record(150, 0.05), strayed).bpm == 108


def test_a_stop_forbids_a_rise_and_a_second_one_running_brings_it_down():
    stopped = take(bpm=100, stops=1)
    assert tempo_after_take(record(150, 0.05, stopped=1), stopped).bpm == 100
    assert tempo_after_take(record(150, 0.05, stopped=2), stopped).bpm == 90


def test_right_notes_beside_the_beat_forbid_a_rise_and_lower_nothing():
    step = tempo_after_take(record(150, 0.05), take(bpm=100, off_time=20))
    assert (step.bpm, step.why) == (100, TempoReason.OUT_OF_TIME)


def test_it_never_rises_while_the_last_three_takes_are_surely_below_the_target():
    low = (Tally(26, 32), Tally(26, 32), Tally(27, 32))
    assert surely_below(low)
    step = tempo_after_take(record(150, 0.05, recent=low), take(5, bpm=100))
    assert (step.bpm, step.why) == (100, TempoReason.NOT_CLEAN)
    step = tempo_after_take(record(150, 0.05, recent=low), take(bpm=100))
    assert (step.bpm, step.why) == (100, TempoReason.NOT_YET)


def test_three_takes_near_the_target_are_within_their_uncertainty():
    assert not surely_below((Tally(28, 32), Tally(29, 32), Tally(28, 32)))


def test_a_player_whose_limit_lies_below_50_is_given_it():
    step = tempo_after_take(record(40.5, 0.05), take(3, bpm=50))
    assert (step.bpm, step.why, step.below_lowest) == (40, TempoReason.TOO_FAST, False)


def test_below_30_there_is_no_click_and_that_is_said():
    step = tempo_after_take(record(25, 0.05), take(4, bpm=30))
    assert (step.bpm, step.why, step.below_lowest) == (30, TempoReason.LOWEST, True)
    assert not tempo_after_take(record(25, 0.05), take(3, bpm=40)).below_lowest, "30 is tried first"


def test_one_take_that_fell_apart_at_the_slowest_click_says_nothing_against_it():
    assert not tempo_after_take(record(40, 0.05), take(16, bpm=30)).below_lowest


@pytest.mark.parametrize(
    ("wrong", "off_time", "why"),
    [
        (3, 0, TempoReason.HELD),
        (0, 3, TempoReason.HELD),
        (2, 1, TempoReason.HELD),
        (4, 0, TempoReason.NOT_CLEAN),
        (0, 4, TempoReason.TIMING),
        (3, 1, TempoReason.TIMING),
        (3, 15, TempoReason.OUT_OF_TIME),
        (4, 4, TempoReason.NOT_CLEAN),
    ],
)
def test_it_rises_only_where_notes_and_time_both_reach_the_target(wrong, off_time, why):
    """29 of 32 are nine in ten."""
    step = tempo_after_take(record(150, 0.05), take(wrong, bpm=100, off_time=off_time))
    assert (step.bpm > 100, step.why) == (why is TempoReason.HELD, why)


def test_whoever_is_short_of_time_three_times_is_given_a_slower_click():
    step = tempo_after_take(record(150, 0.05, out_of_time=3), take(bpm=100, off_time=6))
    assert (step.bpm, step.why) == (90, TempoReason.TIMING)


def test_a_take_begun_again_on_the_way_is_not_called_a_stop():
    assert tempo_after_take(record(150, 0.05), take(bpm=100, restarts=1)).why is TempoReason.BEGAN_AGAIN


def test_slower_for_a_wish_or_the_target_is_not_called_too_fast():
    assert tempo_after_take(record(101, 0.05), take(bpm=100), wish=-0.1).why is TempoReason.WISHED
    over = tempo_after_take(record(200, 0.05, passage=PASSAGE), take(bpm=130))
    assert (over.bpm, over.why) == (106, TempoReason.OVER_TARGET)


def test_a_known_steady_tempo_alone_decides_how_a_day_begins():
    """Whoever chose to play slowly yesterday begins today where they can be."""
    known = record(170.5, 0.05, last_bpm=50)
    assert tempo_on_new_day(known, known.belief).bpm == 156
    guessed = record(170.5, 0.3, last_bpm=50)
    step = tempo_on_new_day(guessed, guessed.belief)
    assert (step.bpm, step.why) == (62, TempoReason.STEP_ON)


def test_a_stop_does_not_make_the_coach_forget_what_was_held():
    known = record(170.5, 0.05, last_bpm=50, held_bpm=150, stopped=1)
    step = tempo_on_new_day(known, known.belief)
    assert (step.bpm, step.why) == (150, TempoReason.AS_LAST_TIME)


def test_a_new_day_begins_at_92_per_cent():
    known = record(100.5, 0.05, last_bpm=100)
    assert tempo_on_new_day(known, known.belief).bpm == 92


def test_the_target_is_tried_first_thing_once_it_has_an_even_chance():
    near = record(97, 0.05, passage=PASSAGE, last_bpm=90)
    assert tempo_on_new_day(near, near.belief).bpm == 96
    far = record(95, 0.05, passage=PASSAGE, last_bpm=90)
    assert tempo_on_new_day(far, far.belief).bpm == 87


@pytest.mark.parametrize("spoilt", [{"recent": (Tally(20, 32),) * 3}, {"stopped": 1}, {"out_of_time": 1}], ids=str)
def test_a_night_does_not_make_up_for_what_the_last_takes_lacked(spoilt):
    known = record(120, 0.05, passage=PASSAGE, last_bpm=70, **spoilt)
    assert tempo_on_new_day(known, known.belief).bpm == 70


def test_practice_goes_a_tenth_over_the_target_and_no_further():
    assert tempo_after_take(record(200, 0.05, passage=PASSAGE), take(bpm=104)).bpm == 106


def test_the_settling_take_goes_at_85_per_cent_and_never_faster_than_the_last():
    known = record(100.5, 0.05, last_bpm=100)
    assert settling_tempo(known, known.belief).bpm == 85
    assert settling_tempo(replace(known, last_bpm=70), known.belief).bpm == 70


def test_a_wish_for_slower_is_heard_in_the_takes_after_it():
    known = record(104.5, 0.05)
    assert tempo_after_take(known, take(bpm=100), wish=-NUMBERS.wish_learned).bpm == 101
