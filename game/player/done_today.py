"""What was done of a day's plan, out of the log, and the plan that goes on from there. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from game.coach.plan.plan_progress import PlanProgress
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.player.desk_facts import StepDone


@dataclass(frozen=True, slots=True, kw_only=True)
class MinutesOfDay:
    """What was done: the `steps` that are behind, one for each piece of music; the minutes of all and of each kind,
    what was left on the way included; what was skipped, by kind and by passage or tune, and which kinds were ended.
    `on_the_way` are steps that were begun and left.
    """

    steps: tuple[StepDone, ...] = ()
    minutes: float = 0.0
    by_kind: Mapping[StepKind, float] = field(default_factory=dict)
    skipped: frozenset[tuple[StepKind, str | None]] = frozenset()
    ended: frozenset[StepKind] = frozenset()
    on_the_way: tuple[StepDone, ...] = ()


def done_today(told: Sequence[StepDone]) -> MinutesOfDay:
    """What the steps told of a day come to. What was left on the way is behind only once it was ended."""
    together: dict[tuple[StepKind, str | None], StepDone] = {}
    by_kind: dict[StepKind, float] = {}
    for step in told:
        key = (step.kind, step.passage or step.tune)
        before = together.pop(key, None)
        minutes = step.minutes + (0.0 if before is None else before.minutes)
        together[key] = StepDone(
            kind=step.kind,
            minutes=minutes,
            over=step.over or (before is not None and before.over),
            skipped=step.skipped,
            passage=step.passage,
            tune=step.tune,
        )
        if step.minutes:
            by_kind[step.kind] = by_kind.get(step.kind, 0.0) + step.minutes
    behind = tuple(step for step in together.values() if step.over)
    return MinutesOfDay(
        steps=behind,
        minutes=sum(by_kind.values()),
        by_kind=by_kind,
        skipped=frozenset(key for key, step in together.items() if step.skipped),
        ended=frozenset(step.kind for step in behind if not step.skipped),
        on_the_way=tuple(step for step in together.values() if not step.over),
    )


def progress_of_day(done: MinutesOfDay, planned: Sequence[PlanStep]) -> PlanProgress:
    """The plan of a day of which some steps are behind, and others planned ahead. What was left on the way and has no
    more time is behind, too.
    """
    ahead = {step.kind for step in planned}
    over = [*done.steps, *(step for step in done.on_the_way if step.kind not in ahead)]
    behind = tuple(
        PlanStep(
            kind=step.kind,
            minutes=0 if step.skipped else max(round(step.minutes), 1),
            reason=(),
            passage=step.passage,
            tune=step.tune,
        )
        for step in over
    )
    practised = tuple(None if step.skipped else step.minutes for step in over)
    spent = sum(step.minutes for step in behind)
    return PlanProgress(
        steps=(*behind, *planned),
        at=len(behind),
        spent=float(spent),
        stretch=float(spent),
        practised=practised,
    )
