"""Which music today."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.coach.plan.plan_choices import (
    is_sign_off_due,
    latest_first,
    new_tune,
    passages_under_way,
    signed_off_passage,
    tune_at_sight,
    unfound,
)
from game.coach.plan.plan_steps import FirstTune, StepKind, UnseenTune
from game.coach.plan.todays_plan import plan_for
from game.coach.stages import Stage
from game.message import verbatim
from game.text.catalogue import tell_all
from tests.coach.plan.situations import DONE, FORD, MILL, OLD, TUNES, kinds, one, situation

K = StepKind


def test_on_every_other_day_a_tune_never_met_stands_for_the_line_and_is_not_offered_twice():
    steps = plan_for(situation(day=100))
    assert one(steps, K.FIRST_SIGHT).tune == "heron"
    assert one(steps, K.NEW_TUNE).tune == "plain"
    assert one(plan_for(situation(day=101)), K.FIRST_SIGHT).tune is None


def test_what_is_far_too_hard_is_not_offered():
    assert K.NEW_TUNE not in kinds(plan_for(situation(unseen=TUNES[2:])))


def test_the_passage_is_the_one_that_was_practised_last():
    assert one(plan_for(situation()), K.PASSAGE).passage == "mill"
    assert one(plan_for(situation(passages=(replace(FORD, last_day=100), MILL))), K.PASSAGE).passage == "ford"
    assert passages_under_way(situation(passages=(FORD, replace(MILL, last_day=98))))[0].name == "mill", (
        "the later of a day"
    )
    played_out = replace(MILL, takes_today=NUMBERS.takes_a_day)
    assert one(plan_for(situation(passages=(FORD, played_out))), K.PASSAGE).passage == "ford"
    assert tell_all(one(plan_for(situation()), K.PASSAGE).reason) == "The Mill, bars 5–8: at 72 now, on the way to 96."


def test_after_three_weeks_away_it_goes_on_with_the_last_passage_and_with_no_new_tune():
    begun = (replace(MILL, tune="mill", last_day=80), replace(FORD, tune="ford", marks=(), last_day=80))
    steps = plan_for(situation(day=101, passages=begun))
    assert one(steps, K.PASSAGE).passage == "ford"
    assert K.NEW_TUNE not in kinds(steps)


HALF_BEGUN = tuple(
    replace(FORD, name=name, title=verbatim(name), tune=name, marks=(), stage=Stage.PLACES, last_day=90 + at)
    for at, name in enumerate(("ash", "birch", "cedar", "elm"))
)


def test_of_four_half_begun_tunes_the_latest_goes_on_and_none_begins_until_they_are_found():
    left = list(HALF_BEGUN)
    while left:
        now = situation(passages=tuple(left))
        assert [passage.name for passage in passages_under_way(now)] == [one.name for one in reversed(left)]
        assert new_tune(now) is None
        left[-1:] = []
        found = tuple(replace(one, marks=(Mark.FOUND,)) for one in HALF_BEGUN[len(left) :])
        assert (new_tune(situation(passages=(*left, *found))) is None) == bool(left)


def test_a_tune_left_aside_for_weeks_while_others_were_played_keeps_no_new_one_back():
    aside = replace(FORD, tune="ford", marks=(), last_day=80)
    played = replace(MILL, tune="mill", last_day=80 + NUMBERS.passage_stale_days)
    assert new_tune(situation(passages=(aside, played))) is None
    played = replace(played, last_day=played.last_day + 1)
    assert new_tune(situation(passages=(aside, played))) is not None
    assert [one.name for one in passages_under_way(situation(passages=(aside, played)))] == ["mill", "ford"]


def test_bars_not_begun_of_a_tune_that_is_come_last_and_keep_a_new_one_back():
    ahead = replace(FORD, name="ahead", tune="mill", marks=(), last_day=None)
    now = situation(passages=(ahead, FORD, replace(MILL, tune="mill")))
    assert [one.name for one in passages_under_way(now)] == ["mill", "ford", "ahead"]
    assert unfound(now) == (ahead,)
    assert new_tune(now) is None


def test_sign_offs_that_are_due_come_next_to_the_latest_passage_the_longest_waiting_first():
    halves = [replace(MILL, name=name, half_day=day, last_day=day) for name, day in (("b", 98), ("a", 97))]
    now = situation(day=101, passages=(*halves, FORD, replace(MILL, last_day=100)))
    assert [one.name for one in passages_under_way(now)] == ["mill", "a", "b", "ford"]


@pytest.mark.parametrize("changed", [{"half_day": 101}, {"marks": tuple(Mark)}, {"takes_today": 5}])
def test_what_is_done_for_today_does_not_go_on(changed):
    assert passages_under_way(situation(day=101, passages=(replace(MILL, **changed),))) == ()


def test_what_is_too_short_to_sign_off_does_not_come_for_ever():
    held = replace(MILL, short=True, tempo_bpm=96)
    assert passages_under_way(situation(passages=(FORD, held)))[0].name == "ford"
    assert passages_under_way(situation(passages=(FORD, replace(held, tempo_bpm=95))))[0].name == "mill"


def test_after_midnight_the_half_of_a_quarter_of_an_hour_ago_is_not_due():
    """It was the first take of the day that has just begun."""
    assert is_sign_off_due(replace(MILL, half_day=100), 101)
    assert not is_sign_off_due(replace(MILL, half_day=100, takes_today=1), 101)
    assert not is_sign_off_due(replace(MILL, half_day=101), 101)


STANDINGS = st.builds(
    lambda number, **facts: replace(FORD, name=f"p{number}", title=verbatim(f"p{number}"), **facts),
    st.integers(0, 10**6),
    tune=st.sampled_from(("ash", "birch", "cedar", "elm")),
    marks=st.sampled_from([(), (Mark.FOUND,), (Mark.FOUND, Mark.IN_TIME), tuple(Mark)]),
    last_day=st.one_of(st.none(), st.integers(50, 101)),
    half_day=st.one_of(st.none(), st.integers(50, 101)),
    target_bpm=st.just(96),
    takes_today=st.integers(0, 5),
)


@given(st.lists(STANDINGS, max_size=12, unique_by=lambda one: one.name), st.integers(5, 90))
def test_whatever_was_practised_the_plan_goes_on_with_it(passages, minutes):
    now = situation(day=101, passages=tuple(passages), minutes=minutes)
    steps = plan_for(now)
    open_ones = [
        one
        for one in passages
        if one.last_day is not None
        and Mark.SIGNED_OFF not in one.marks
        and one.takes_today < NUMBERS.takes_a_day
        and one.half_day != 101
    ]
    if open_ones:
        first = next(step.passage for step in steps if step.kind is K.PASSAGE)
        chosen = next(one for one in open_ones if one.name == first)
        assert chosen.last_day == max(one.last_day for one in open_ones)
    tunes = [step for step in steps if step.kind is K.NEW_TUNE]
    assert len(tunes) <= 1
    begun = [one for one in passages if one.last_day is not None]
    if begun:
        newest = max(begun, key=lambda one: one.last_day).last_day
        last_tunes = {one.tune for one in begun if one.last_day == newest}
        if any(not one.marks for one in passages if one.tune in last_tunes):
            assert not tunes


def test_it_ends_with_what_is_due_or_was_not_played_for_longest():
    assert plan_for(situation())[-1].passage == "oak"
    due = plan_for(situation(due_passages=("gate", "oak")))[-1]
    assert (due.passage, tell_all(due.reason)) == ("gate", "To end with: The Gate, before it slips away.")


def test_without_passages_and_tunes_there_is_nothing_to_choose():
    empty = situation(passages=(), unseen=(), day=100)
    assert passages_under_way(empty) == ()
    assert tune_at_sight(empty) is None
    assert new_tune(empty) is None
    assert signed_off_passage(empty) is None


def test_a_signed_off_passage_is_not_under_way():
    assert passages_under_way(situation(passages=(DONE, OLD))) == ()


def test_the_hardest_tune_within_the_level_is_met_at_sight_and_the_nearest_one_learned():
    now = situation(day=100, level=2)
    assert tune_at_sight(now).name == "heron"
    assert new_tune(now).name == "heron"
    assert new_tune(now, taken=TUNES[0]).name == "plain"
    assert tune_at_sight(situation(day=100, level=0)) is None


def test_a_tune_a_little_over_the_level_may_be_learned_but_not_met_at_sight():
    just_over = replace(TUNES[2], difficulty=2 + NUMBERS.tune_over_level)
    now = situation(day=100, level=2, unseen=(just_over,))
    assert tune_at_sight(now) is None
    assert new_tune(now) == just_over


OWN = UnseenTune(name="mine", title="Mine", difficulty=4.5, own=True)


def test_a_tune_of_the_players_own_comes_before_the_book_even_while_one_of_the_book_is_not_found():
    begun = (replace(FORD, tune="ford", marks=(), stage=Stage.PLACES, last_day=100),)
    assert new_tune(situation(unseen=(*TUNES, OWN), passages=begun)) == OWN
    assert new_tune(situation(unseen=TUNES, passages=begun)) is None
    assert new_tune(situation(unseen=(*TUNES, OWN), passages=begun, own_tunes=frozenset({"ford"}))) is None
    far = replace(OWN, difficulty=9.0)
    assert new_tune(situation(unseen=(*TUNES, far), passages=())) != far


def test_what_the_player_brought_and_the_first_tune_are_not_spent_at_sight():
    first = FirstTune(name="heron", title="The Heron", notes=(("C5", 60),))
    found = tune_at_sight(situation(day=100, unseen=(*TUNES, replace(OWN, difficulty=2.0)), first_tune=first))
    assert found.name == "plain"


def test_the_first_tune_comes_first_then_those_without_a_stretch_that_was_never_met():
    """In position V: F and B flat need none, C one for its B, G two."""
    in_f, in_c, in_g = (
        UnseenTune(name=name, title=name, difficulty=2.0, stretches=stretches)
        for name, stretches in (("z-f", 0), ("m-c", 1), ("a-g", 2))
    )
    first = FirstTune(name="a-g", title="a-g", notes=(("C5", 60),))
    assert new_tune(situation(unseen=(in_c, in_f, in_g), passages=(), first_tune=first)).name == "a-g"
    assert new_tune(situation(unseen=(in_c, in_f, in_g), passages=())).name == "z-f"
    assert new_tune(situation(unseen=(in_c, in_g), passages=())).name == "m-c"


def test_what_was_only_found_on_another_day_is_gone_on_with_from_the_beginning_of_its_tune():
    day = situation().day
    found = [
        replace(MILL, name=f"mill {place}", tune="mill", place=place, tempo_bpm=None, last_day=day - 1)
        for place in range(3)
    ]
    timed = replace(FORD, name="ford", tune="ford", place=1, tempo_bpm=70, last_day=day - 1)
    order = latest_first(situation(passages=(found[0], found[1], timed, found[2])))
    assert [passage.name for passage in order] == ["mill 0", "ford", "mill 1", "mill 2"]
    today = tuple(replace(passage, last_day=day) for passage in found)
    assert [passage.place for passage in latest_first(situation(passages=today))] == [2, 1, 0]
