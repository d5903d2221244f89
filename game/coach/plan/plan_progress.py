"""The player on the way through today's plan: what comes next after what was done or skipped. Nothing nags.

A fold: `progress_after(progress, happened) -> progress`; `next_step(progress)` is what stands to be done.
"""

from dataclasses import dataclass, replace

from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import PlanStep, StepKind

_NOTES_ALONE = (StepKind.WARM_UP, StepKind.FIVE_NOTES, StepKind.SLOW_NOTES)
_MUSIC_BEGUN = (StepKind.PASSAGE, StepKind.NEW_TUNE)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanProgress:
    """A plan and how far it has come; at its start with its steps alone.

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


def progress_after(progress: PlanProgress, happened: StepOver, numbers: CoachNumbers = NUMBERS) -> PlanProgress:
    """The progress after its next step was done or skipped; one that is over stays as it is. Raises `ValueError` for
    minutes below 0.
    """
    if happened.minutes < 0:
        raise ValueError(f"a step cannot take {happened.minutes} minutes")
    if progress.at >= len(progress.steps):
        return progress
    resting = progress.steps[progress.at].kind is StepKind.REST
    rested = resting and not happened.skipped
    after = replace(
        progress,
        at=progress.at + 1,
        spent=progress.spent + happened.minutes,
        stretch=0.0 if rested else progress.stretch + (0.0 if resting else happened.minutes),
        practised=(*progress.practised, None if happened.skipped else happened.minutes),
    )
    return _past_needless_rests(_past_what_leaves_no_time(after, numbers), numbers)


def brought_forward(progress: PlanProgress, index: int, *, minutes: float = 0.0) -> PlanProgress:
    """The progress with the step at `index` next, for the player wants that first; those before it come after. One that
    was skipped can be taken up again, one that was done stays done. `minutes` were spent on the step that stood next.
    """
    if index == progress.at or not 0 <= index < len(progress.steps):
        return progress
    skipped = index < progress.at
    if skipped and progress.practised[index] is not None:
        return progress
    steps, at = list(progress.steps), progress.at - skipped
    steps.insert(at, steps.pop(index))
    practised = progress.practised[:index] + progress.practised[index + 1 :] if skipped else progress.practised
    return replace(
        progress,
        steps=tuple(steps),
        at=at,
        practised=practised,
        spent=progress.spent + minutes,
        stretch=progress.stretch + minutes,
    )


def next_step(progress: PlanProgress, numbers: CoachNumbers = NUMBERS) -> PlanStep | None:
    """The step that stands next, with the minutes there are for it now; None when the plan is done or its time is over.

    What was skipped makes the steps left longer, what took longer makes them shorter; but notes alone get no longer by
    it: the time is for music. On a short day the first music that goes on is offered for a minute even then, and a tune
    to be heard always: it asks nothing.
    """
    if progress.at >= len(progress.steps):
        return None
    step, left = progress.steps[progress.at], progress.minutes - progress.spent
    offered = step.kind is StepKind.HEARD_WHOLE or (
        progress.minutes <= numbers.plan_short and _is_first_music(progress)
    )
    if left < 1 and not offered:
        return None
    if step.kind is StepKind.REST:
        return step
    ahead = progress.steps[progress.at :]
    left = max(left, 1)
    resting = sum(other.minutes for other in ahead if other.kind is StepKind.REST)
    practice = sum(other.minutes for other in ahead) - resting
    longest = 1.0 if step.kind in _NOTES_ALONE else numbers.stretched_most
    stretched = min((left - resting) / practice, longest)
    until_rest = max(numbers.rest_after - progress.stretch, 1)
    return replace(step, minutes=max(round(min(step.minutes * stretched, left, until_rest)), 1))


def _past_needless_rests(progress: PlanProgress, numbers: CoachNumbers) -> PlanProgress:
    """Rests are passed over while little was played since the last one, and at the end."""
    while progress.at < len(progress.steps) and progress.steps[progress.at].kind is StepKind.REST:
        if progress.stretch >= numbers.rest_least and progress.at + 1 < len(progress.steps):
            break
        progress = replace(progress, at=progress.at + 1, practised=(*progress.practised, None))
    return progress


def _is_first_music(progress: PlanProgress) -> bool:
    """Whether the step that stands next is the first of music that goes on; what was skipped was offered."""
    kinds = [step.kind in _MUSIC_BEGUN for step in progress.steps]
    return kinds[progress.at] and not any(kinds[: progress.at])


def _past_what_leaves_no_time(progress: PlanProgress, numbers: CoachNumbers) -> PlanProgress:
    """What took longer than it should does not cost the day its passage: until the first music that goes on was
    offered, what stands before it is passed over once there would be no time for both.
    """
    left = progress.minutes - progress.spent
    first = next((at for at, step in enumerate(progress.steps) if step.kind in _MUSIC_BEGUN), progress.at)
    if first <= progress.at or left >= 1 + numbers.step_least:
        return progress
    return replace(progress, at=first, practised=(*progress.practised, *(None,) * (first - progress.at)))
