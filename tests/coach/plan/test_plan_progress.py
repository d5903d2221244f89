"""The way through today's plan."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_progress import PlanProgress, StepOver, brought_forward, next_step, progress_after
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.message import verbatim

K = StepKind


def plan(*row):
    return tuple(PlanStep(kind=kind, minutes=minutes, reason=(verbatim("Because."),)) for kind, minutes in row)


TWENTY = plan((K.WARM_UP, 1), (K.FIRST_SIGHT, 4), (K.SLOW_NOTES, 4), (K.PASSAGE, 4), (K.NEW_TUNE, 4), (K.SIGNED_OFF, 3))
LONG = plan((K.FIRST_SIGHT, 10), (K.SLOW_NOTES, 12), (K.REST, 5), (K.PASSAGE, 12), (K.SIGNED_OFF, 6))
HAPPENED = st.builds(StepOver, minutes=st.floats(0, 15), skipped=st.booleans())


def progress(steps, *happened):
    at = PlanProgress(steps=tuple(steps))
    for over in happened:
        at = progress_after(at, over)
    return at


def done(minutes):
    return StepOver(minutes=minutes)


SKIPPED = StepOver(minutes=0, skipped=True)


def test_done_as_planned_every_step_comes_in_turn_with_its_own_minutes():
    at, seen = PlanProgress(steps=tuple(TWENTY)), []
    while (step := next_step(at)) is not None:
        seen.append(step)
        at = progress_after(at, done(step.minutes))
    assert tuple(seen) == TWENTY
    assert at.spent == 20


def test_what_was_skipped_makes_the_steps_left_longer():
    step = next_step(progress(TWENTY, done(1), SKIPPED, SKIPPED))
    assert step.kind is K.PASSAGE
    assert step.minutes > TWENTY[3].minutes


def test_notes_alone_get_no_longer_by_what_was_skipped():
    step = next_step(progress(TWENTY, done(1), SKIPPED))
    assert (step.kind, step.minutes) == (K.SLOW_NOTES, TWENTY[2].minutes)


def test_everything_can_be_skipped_and_nothing_comes_back():
    at = progress(TWENTY, *[SKIPPED] * 6)
    assert next_step(at) is None
    assert at.practised == (None,) * 6
    assert progress_after(at, SKIPPED) == at


def test_what_took_longer_makes_the_steps_left_shorter():
    step = next_step(progress(TWENTY, done(1), done(11)))
    assert (step.kind, step.minutes) == (K.SLOW_NOTES, 2)


def test_when_the_time_is_over_the_plan_is():
    assert next_step(progress(TWENTY, done(1), done(18.5))) is None


def test_the_tune_of_a_first_day_is_there_to_be_heard_however_long_all_else_took():
    first_day = plan((K.FIVE_NOTES, 4), (K.NEW_TUNE, 4), (K.HEARD_WHOLE, 2))
    at = progress(first_day, done(6), done(9))
    assert next_step(at).kind is K.HEARD_WHOLE
    assert next_step(progress_after(at, done(1))) is None


def test_a_rest_comes_after_a_long_stretch_and_is_passed_over_after_a_short_one():
    assert next_step(progress(LONG, done(10), done(12))).kind is K.REST
    assert next_step(progress(LONG, SKIPPED, done(8))).kind is K.PASSAGE


def test_a_rest_that_was_skipped_does_not_count_as_one():
    at = progress(LONG, done(10), done(12), SKIPPED)
    assert at.stretch == 22


def test_negative_minutes_are_refused():
    with pytest.raises(ValueError, match="cannot take -1"):
        progress(TWENTY, done(-1))


@given(st.lists(HAPPENED, max_size=8))
def test_it_only_ever_goes_forward_and_offers_no_more_than_the_time_left(happened):
    states = [PlanProgress(steps=tuple(LONG))]
    for over in happened:
        states.append(progress_after(states[-1], over))
    for before, after in pairwise(states):
        assert after.at >= before.at
        assert after.spent >= before.spent
    for at in states:
        step = next_step(at)
        if step is not None:
            assert 1 <= step.minutes <= max(at.minutes - at.spent, 1) + 0.5
            assert step.minutes <= NUMBERS.rest_after


@given(st.lists(HAPPENED, max_size=5))
def test_the_same_happenings_give_the_same_course(happened):
    assert progress(LONG, *happened) == progress(LONG, *happened)


FIVE = plan((K.WARM_UP, 1), (K.FIRST_SIGHT, 2), (K.PASSAGE, 2))


def test_a_warm_up_that_took_long_costs_a_short_day_its_first_sight_and_not_its_passage():
    assert next_step(progress(FIVE, done(1))).kind is K.FIRST_SIGHT
    assert next_step(progress(FIVE, done(2.0))).kind is K.FIRST_SIGHT
    at = progress(FIVE, done(2.5))
    assert (next_step(at).kind, at.practised) == (K.PASSAGE, (2.5, None))


def test_once_music_was_practised_nothing_is_passed_over():
    at = progress(plan((K.PASSAGE, 4), (K.SLOW_NOTES, 2), (K.PASSAGE, 4)), done(8))
    assert next_step(at).kind is K.SLOW_NOTES


@given(st.floats(0, 60), st.floats(0, 60))
def test_who_has_five_minutes_reaches_the_passage_however_long_all_else_takes(warm_up, sight):
    at = progress(FIVE, done(warm_up))
    if next_step(at).kind is K.FIRST_SIGHT:
        at = progress_after(at, done(sight))
    assert next_step(at).kind is K.PASSAGE
    assert next_step(at).minutes >= 1
    assert next_step(progress_after(at, SKIPPED)) is None, "it is offered once"


def test_after_the_first_passage_the_day_is_over_when_its_minutes_are():
    assert next_step(progress(plan((K.PASSAGE, 4), (K.SLOW_NOTES, 2), (K.PASSAGE, 4)), done(9.5))) is None


def kinds(at):
    return [step.kind for step in at.steps]


def test_a_step_that_is_wanted_first_comes_next_and_those_before_it_after():
    at = brought_forward(progress(TWENTY, done(1)), 4)
    assert next_step(at).kind is K.NEW_TUNE
    assert kinds(at) == [K.WARM_UP, K.NEW_TUNE, K.FIRST_SIGHT, K.SLOW_NOTES, K.PASSAGE, K.SIGNED_OFF]
    assert at.practised == (1,)


def test_a_step_that_was_skipped_can_be_taken_up_again_and_one_that_was_done_stays_done():
    at = progress(TWENTY, done(1), SKIPPED, done(4))
    again = brought_forward(at, 1)
    assert next_step(again).kind is K.FIRST_SIGHT
    assert again.practised == (1, 4)
    assert kinds(again)[:4] == [K.WARM_UP, K.SLOW_NOTES, K.FIRST_SIGHT, K.PASSAGE]
    assert brought_forward(at, 0) is at
    assert brought_forward(at, 9) is at


def test_what_was_spent_on_the_step_that_gives_way_is_spent():
    at = brought_forward(progress(TWENTY, done(1)), 3, minutes=2.5)
    assert at.spent == 3.5
    assert at.stretch == 3.5


@given(st.lists(HAPPENED, max_size=4), st.integers(0, 5))
def test_whatever_is_wanted_first_no_step_is_lost_and_none_is_done_twice(happened, index):
    before = progress(TWENTY, *happened)
    after = brought_forward(before, index)
    assert sorted(kinds(after), key=str) == sorted(kinds(before), key=str)
    assert sum(one is not None for one in after.practised) == sum(one is not None for one in before.practised)
    assert len(after.practised) == after.at
