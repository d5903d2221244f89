"""What follows a take of the plan, and that what is said of it is what is done."""

from dataclasses import replace
from itertools import product

import pytest

from game.coach.decisions import Decision, Offer
from game.coach.plan.plan_onward import Onward, planned_next
from game.coach.plan.plan_steps import PlannedLine, PlanStep, StepKind
from game.coach.stages import Pulse, Stage
from game.message import message, verbatim
from game.text.catalogue import tell_all
from tests.coach.plan.situations import MILL

K = StepKind
PLAYED = verbatim("Seven of eight at 60.")
AGAIN = Decision(
    passage="ford",
    offer=Offer.AGAIN,
    stage=Stage.PLACES,
    pulse=Pulse.FREE,
    tempo_bpm=None,
    reason=(PLAYED, message("coach.places_again")),
)
HALF = replace(AGAIN, offer=Offer.SIBLING, reason=(PLAYED, message("coach.once_more_another_day")))
ENOUGH = replace(AGAIN, offer=Offer.SIBLING, reason=(PLAYED, message("coach.enough_for_today", count=5)))
EASIER = replace(AGAIN, offer=Offer.EASIER, reason=(PLAYED, message("coach.easier_after_tries")))
RHYTHM = replace(AGAIN, stage=Stage.RHYTHM, reason=(PLAYED, message("coach.begin.rhythm")))
LINE = PlannedLine(level=2)


def step(kind):
    line = LINE if kind in (K.WARM_UP, K.SLOW_NOTES, K.FIRST_SIGHT) else None
    return PlanStep(kind=kind, minutes=4, reason=(verbatim("Because."),), line=line)


def after(kind, decision, *, time_left=True, more_bars=True, other=MILL):
    return planned_next(step(kind), decision, time_left=time_left, more_bars=more_bars, other=other)


@pytest.mark.parametrize(
    ("kind", "decision", "onward"),
    [
        (K.PASSAGE, AGAIN, Onward.AS_ADVISED),
        (K.PASSAGE, RHYTHM, Onward.AS_ADVISED),
        (K.PASSAGE, HALF, Onward.OTHER_PASSAGE),
        (K.PASSAGE, ENOUGH, Onward.OTHER_PASSAGE),
        (K.PASSAGE, EASIER, Onward.OTHER_PASSAGE),
        (K.NEW_TUNE, AGAIN, Onward.AS_ADVISED),
        (K.NEW_TUNE, RHYTHM, Onward.NEXT_BARS),
        (K.NEW_TUNE, ENOUGH, Onward.NEXT_BARS),
        (K.WARM_UP, AGAIN, Onward.OTHER_LINE),
        (K.SLOW_NOTES, RHYTHM, Onward.OTHER_LINE),
        (K.FIRST_SIGHT, HALF, Onward.STEP_OVER),
        (K.SIGNED_OFF, AGAIN, Onward.STEP_OVER),
    ],
)
def test_while_there_is_time_a_step_goes_on_with_what_it_is_for(kind, decision, onward):
    assert after(kind, decision).onward is onward
    assert after(kind, decision, time_left=False).onward is Onward.STEP_OVER


def test_with_nothing_to_go_on_with_the_step_is_over():
    assert after(K.PASSAGE, HALF, other=None).onward is Onward.STEP_OVER
    assert after(K.NEW_TUNE, RHYTHM, more_bars=False).onward is Onward.STEP_OVER
    sight_of_tune = replace(step(K.FIRST_SIGHT), line=None, tune="heron")
    then = planned_next(sight_of_tune, HALF, time_left=True, more_bars=False, other=None)
    assert then.onward is Onward.STEP_OVER
    assert planned_next(None, AGAIN, time_left=False, more_bars=True, other=MILL).onward is Onward.STEP_OVER


def test_the_coachs_next_take_is_said_only_where_it_comes():
    """In every state there is: the words of what is not done are never read."""
    decisions = (AGAIN, HALF, ENOUGH, EASIER, RHYTHM)
    for kind, decision, time_left, more, other in product(
        (kind for kind in K if kind is not K.REST), decisions, (True, False), (True, False), (MILL, None)
    ):
        then = after(kind, decision, time_left=time_left, more_bars=more, other=other)
        assert then.reason[0] == PLAYED
        if then.onward is Onward.AS_ADVISED:
            assert then.reason == decision.reason
            continue
        assert then.reason[-1].key == f"plan.then.{then.onward.value}"
        kept = then.reason[1:-1]
        assert kept in ((), (message("coach.once_more_another_day"),))
        assert (then.passage is not None) == (then.onward is Onward.OTHER_PASSAGE)


def test_what_a_sign_off_lacks_is_still_said_with_what_comes_next():
    assert tell_all(after(K.PASSAGE, HALF).reason) == (
        "Seven of eight at 60. Once more like that on another day, and it is signed off. Other music now. "
        "On with The Mill, bars 5–8."
    )
    assert tell_all(after(K.PASSAGE, AGAIN, time_left=False).reason) == (
        "Seven of eight at 60. That is all of this step: back to the plan."
    )
