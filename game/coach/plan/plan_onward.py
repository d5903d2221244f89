"""What follows a take inside a step of the plan: one decision for what is read and for what Enter does.

The coach speaks of a passage, the plan of a day: it goes on as the coach says where the step is made of that, and where
it does not, the words of the coach that would promise something else give way to those of the plan.
"""

from dataclasses import dataclass
from enum import Enum

from game.coach.decisions import Decision, Offer
from game.coach.plan.plan_steps import PassageStanding, PlanStep, StepKind
from game.coach.stages import Stage
from game.message import Message, message

_OF_OTHER_MUSIC = frozenset(("coach.enough_for_today", "coach.easier_after_tries", "coach.easier_after_fall"))


class Onward(Enum):
    """What comes after a take of the plan."""

    AS_ADVISED = "as advised"
    NEXT_BARS = "next bars"
    COURSE_BARS = "course bars"
    OTHER_LINE = "other line"
    OTHER_PASSAGE = "other passage"
    STEP_OVER = "step over"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedNext:
    """What comes next and the whole advice to it. `passage` goes with another passage."""

    onward: Onward
    reason: tuple[Message, ...]
    passage: PassageStanding | None = None


def planned_next(
    step: PlanStep | None, decision: Decision, *, time_left: bool, more_bars: bool, other: PassageStanding | None
) -> PlannedNext:
    """What follows a take of `step`, None when the plan was over already. `time_left` is for another take of the step,
    `more_bars` tells whether the tune has bars after these, or the course more for today, `other` is the next passage
    under way.
    """
    onward = Onward.STEP_OVER
    if step is not None and time_left:
        onward = _within(step, decision, more_bars=more_bars, others=other is not None)
    passage = other if onward is Onward.OTHER_PASSAGE else None
    return PlannedNext(onward=onward, reason=_reason(onward, decision, passage), passage=passage)


def _within(step: PlanStep, decision: Decision, *, more_bars: bool, others: bool) -> Onward:
    again = decision.offer is Offer.AGAIN
    if step.line is not None:
        # One unseen line a sitting is planned: more may be taken from their folder.
        return Onward.STEP_OVER if step.kind is StepKind.FIRST_SIGHT else Onward.OTHER_LINE
    if step.kind is StepKind.PASSAGE:
        other = Onward.OTHER_PASSAGE if others else Onward.STEP_OVER
        return Onward.AS_ADVISED if again else other
    if step.kind is StepKind.COURSE:
        return Onward.COURSE_BARS if more_bars else Onward.STEP_OVER
    if step.kind is StepKind.NEW_TUNE:
        further = Onward.NEXT_BARS if more_bars else Onward.STEP_OVER
        return Onward.AS_ADVISED if again and decision.stage is Stage.PLACES else further
    return Onward.STEP_OVER


def _reason(onward: Onward, decision: Decision, passage: PassageStanding | None) -> tuple[Message, ...]:
    if onward is Onward.AS_ADVISED:
        return decision.reason
    titled = {} if passage is None else {"passage": passage.title}
    return (*_still_true(decision), message(f"plan.then.{onward.value}", **titled))


def _still_true(decision: Decision) -> tuple[Message, ...]:
    """What the coach said that promises nothing but other music: what was played, and what came of it."""
    promises = decision.offer is not Offer.SIBLING or any(said.key in _OF_OTHER_MUSIC for said in decision.reason)
    return decision.reason[:1] if promises else decision.reason
