"""Maps side by side in the plan: mixed once each is fluent alone, and what it costs.

While maps are mixed, lines take turns between them, on two days of three; on the third the player's own map is read
alone, so that what mixing costs can be told. Passages stay on the map they were begun on: their tempo was found there.
A fluent map that is not read now is not forgotten either: once in a while its due notes are the warm-up.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import exp, sqrt

from game.coach.notes.items import map_name
from game.coach.notes.map_days import MapDay
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import MapInPlan, PlanStep, Situation, StepKind

_SURE_Z = 1.6449
"""One-sided 95 % of the normal distribution (standard table)."""


def situation_on(situation: Situation, one: MapInPlan) -> Situation:
    """The same day for somebody who reads on another map, which they know whole."""
    if one.neck_map == situation.neck_map:
        return situation
    return replace(situation, neck_map=one.neck_map, own_map=one.name, known=None, met_today=frozenset())


def maps_in_turn(situation: Situation, numbers: CoachNumbers = NUMBERS) -> tuple[MapInPlan, ...]:
    """The maps that take turns today, the first one another from day to day; none while they are not mixed: before each
    is fluent alone, and on a day of one map.
    """
    if not situation.fluent or not situation.fluent_maps:
        return ()
    if situation.day % numbers.mixed_of_days >= numbers.mixed_most:
        return ()
    every = (MapInPlan(situation.neck_map, situation.own_map), *situation.fluent_maps)
    first = situation.day % len(every)
    return (*every[first:], *every[:first])


def map_to_look_at(situation: Situation, numbers: CoachNumbers = NUMBERS) -> MapInPlan | None:
    """The fluent map of which most notes are due, on the days of such a warm-up; None where too few are."""
    if situation.day % numbers.other_map_days:
        return None

    def due(one: MapInPlan) -> int:
        places = one.neck_map.places
        name = map_name(one.neck_map)
        return sum(key.map_name == name and places.get(key.sounding) == key.place for key in situation.due_notes)

    waiting = [one for one in situation.fluent_maps if due(one) >= numbers.other_map_due]
    return max(waiting, key=due, default=None)


def on_maps_in_turn(
    steps: Iterable[PlanStep], situation: Situation, numbers: CoachNumbers = NUMBERS
) -> tuple[PlanStep, ...]:
    """The steps, with the maps of those whose lines take turns; a line at sight is one, and has one map."""
    turns = maps_in_turn(situation, numbers)
    if not turns:
        return tuple(steps)
    return tuple(_in_turn(step, turns) for step in steps)


def _in_turn(step: PlanStep, turns: tuple[MapInPlan, ...]) -> PlanStep:
    if step.line is None or step.maps or step.kind is StepKind.FREE_READING:
        return step
    if step.kind is StepKind.FIRST_SIGHT:
        return replace(step, maps=turns[:1])
    # The line at sight had the first turn.
    return replace(step, maps=(*turns[1:], turns[0])) if step.kind is StepKind.SLOW_NOTES else step


def map_after(step: PlanStep, played_on: object | None) -> MapInPlan | None:
    """The map of the next line of a step, after one that was read on the map `played_on`, None before the first; None
    where a step has no maps of its own.
    """
    if not step.maps:
        return None
    at = next((at for at, one in enumerate(step.maps) if one.neck_map == played_on), -1)
    return step.maps[(at + 1) % len(step.maps)]


@dataclass(frozen=True, slots=True)
class CostOfMixing:
    """Seconds to find a note (geometric means) on days of one map, and on days of several; `sure` is whether the
    difference is more than chance allows, one-sided 95 %.
    """

    alone_s: float
    mixed_s: float
    sure: bool


def cost_of_mixing(days_of_maps: Sequence[Sequence[MapDay]], numbers: CoachNumbers = NUMBERS) -> CostOfMixing | None:
    """What mixing costs, from the days of each map since they were mixed first. None where too few days or notes tell.

    Each map is compared with itself, and weighs by the notes found on its mixed days: a slow map that is read on mixed
    days only makes no difference. Days before are left out, for notes were still being learned on them; that is why
    days of one map come between.
    """
    mixed_days = _days_of_several(days_of_maps, numbers)
    if len(mixed_days) < numbers.mixed_least_days:
        return None
    since = min(mixed_days)
    parts = [_both(days, mixed_days, since) for days in days_of_maps]
    told = [(alone, mixed) for alone, mixed in parts if alone.found and mixed.found]
    alone_days = {day.day for days in days_of_maps for day in days if day.found and day.day >= since} - mixed_days
    found = [sum(one[at].found for one in told) for at in (0, 1)]
    if len(alone_days) < numbers.mixed_least_days or min(found) < numbers.mixed_least_found:
        return None
    alone_log = mixed_log = variance = 0.0
    for alone, mixed in told:
        weight = mixed.found / found[1]
        alone_log += weight * alone.log_s / alone.found
        mixed_log += weight * mixed.log_s / mixed.found
        variance += weight**2 * (_variance(alone) / alone.found + _variance(mixed) / mixed.found)
    sure = abs(mixed_log - alone_log) > _SURE_Z * sqrt(variance)
    return CostOfMixing(alone_s=exp(alone_log), mixed_s=exp(mixed_log), sure=sure)


def _days_of_several(days_of_maps: Sequence[Sequence[MapDay]], numbers: CoachNumbers) -> frozenset[int]:
    """The days on which a part of the notes worth speaking of was found on another map than the most: more than a
    warm-up.
    """
    found: dict[int, list[int]] = {}
    for days in days_of_maps:
        for day in days:
            found.setdefault(day.day, []).append(day.found)
    return frozenset(
        day for day, counts in found.items() if sum(counts) - max(counts) >= numbers.mixed_share * max(sum(counts), 1)
    )


def _both(days: Sequence[MapDay], mixed_days: frozenset[int], since: int) -> tuple[MapDay, MapDay]:
    alone, mixed = MapDay(0), MapDay(0)
    for day in days:
        if day.day in mixed_days:
            mixed = mixed.plus(day)
        elif day.day >= since:
            alone = alone.plus(day)
    return alone, mixed


def _variance(day: MapDay) -> float:
    """Of the logarithms of single times."""
    return max(day.squares / day.found - (day.log_s / day.found) ** 2, 0.0)
