"""The player on the way through today's plan: what comes next after what was done or skipped. Nothing nags.

A fold: `course_after(course, happened) -> course`; `next_step(course)` is what stands to be done.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import PlanStep, StepKind


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCourse:
    """A plan and how far it has come. Begin with `begin_plan`.

    `at` is the index of the step that stands next. `spent` are the minutes gone, rests included, `stretch` those of
    practice since the last rest; `practised` the minutes spent on each step, in order, None for one that was skipped.
    """

    steps: tuple[PlanStep, ...]
    at: int = 0
    spent: float = 0.0
    stretch: float = 0.0
    practised: tuple[float | None, ...] = ()

    @property
    def minutes(self) -> int:
        """The minutes of the whole plan."""
        return sum(step.minutes for step in self.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepOver:
    """The step that stood next is over, after so many minutes: done, or skipped, at once or on the way."""

    minutes: float
    skipped: bool = False


def begin_plan(steps: Sequence[PlanStep]) -> PlanCourse:
    """The course at its start."""
    return PlanCourse(steps=tuple(steps))


def course_after(course: PlanCourse, happened: StepOver, numbers: CoachNumbers = NUMBERS) -> PlanCourse:
    """The course after its next step was done or skipped; one that is over stays as it is. Raises `ValueError` for
    minutes below 0.
    """
    if happened.minutes < 0:
        raise ValueError(f"a step cannot take {happened.minutes} minutes")
    if course.at >= len(course.steps):
        return course
    resting = course.steps[course.at].kind is StepKind.REST
    rested = resting and not happened.skipped
    after = replace(
        course,
        at=course.at + 1,
        spent=course.spent + happened.minutes,
        stretch=0.0 if rested else course.stretch + (0.0 if resting else happened.minutes),
        practised=(*course.practised, None if happened.skipped else happened.minutes),
    )
    return _past_needless_rests(after, numbers)


def next_step(course: PlanCourse, numbers: CoachNumbers = NUMBERS) -> PlanStep | None:
    """The step that stands next, with the minutes there are for it now; None when the plan is done or its time is over.

    What was skipped makes the steps left longer, what took longer makes them shorter.
    """
    if course.at >= len(course.steps):
        return None
    step, left = course.steps[course.at], course.minutes - course.spent
    if left < 1:
        return None
    if step.kind is StepKind.REST:
        return step
    ahead = course.steps[course.at :]
    resting = sum(other.minutes for other in ahead if other.kind is StepKind.REST)
    practice = sum(other.minutes for other in ahead) - resting
    stretched = min((left - resting) / practice, numbers.stretched_most)
    until_rest = max(numbers.rest_after - course.stretch, 1)
    return replace(step, minutes=max(round(min(step.minutes * stretched, left, until_rest)), 1))


def _past_needless_rests(course: PlanCourse, numbers: CoachNumbers) -> PlanCourse:
    """Rests are passed over while little was played since the last one, and at the end."""
    while course.at < len(course.steps) and course.steps[course.at].kind is StepKind.REST:
        if course.stretch >= numbers.rest_least and course.at + 1 < len(course.steps):
            break
        course = replace(course, at=course.at + 1, practised=(*course.practised, None))
    return course
