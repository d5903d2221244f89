"""What was done of a day is put together from what was told of it, step by step."""

from game.coach.plan.plan_steps import PlanStep, StepKind
from game.player.desk_facts import StepDone
from game.player.done_today import done_today, progress_of_day

K = StepKind
WARM = StepDone(kind=K.WARM_UP, minutes=1.0)
HALF = StepDone(kind=K.PASSAGE, minutes=2.0, over=False, passage="a" * 32)
REST_OF_IT = StepDone(kind=K.PASSAGE, minutes=1.5, passage="a" * 32)
SKIPPED = StepDone(kind=K.FIRST_SIGHT, minutes=0.0, skipped=True)


def test_what_was_left_on_the_way_and_ended_later_is_one_step():
    done = done_today([WARM, HALF, REST_OF_IT])
    assert [(step.kind, step.minutes) for step in done.steps] == [(K.WARM_UP, 1.0), (K.PASSAGE, 3.5)]
    assert done.by_kind == {K.WARM_UP: 1.0, K.PASSAGE: 3.5}
    assert done_today([WARM, HALF]).on_the_way == (HALF,)


def test_what_was_skipped_and_begun_after_all_is_skipped_no_more():
    assert done_today([SKIPPED]).skipped == {(K.FIRST_SIGHT, None)}
    after = done_today([SKIPPED, StepDone(kind=K.FIRST_SIGHT, minutes=4.0)])
    assert (after.skipped, after.ended) == (frozenset(), {K.FIRST_SIGHT})


def test_the_day_goes_on_behind_what_is_done():
    ahead = (PlanStep(kind=K.PASSAGE, minutes=5, reason=()),)
    progress = progress_of_day(done_today([WARM, SKIPPED]), ahead)
    assert (progress.at, progress.minutes, progress.spent, progress.practised) == (2, 6, 1.0, (1.0, None))


def test_what_was_left_on_the_way_with_no_time_left_for_it_is_behind():
    progress = progress_of_day(done_today([HALF]), ())
    assert (progress.at, [step.kind for step in progress.steps]) == (1, [K.PASSAGE])
