"""Today's plan, from the minutes the player has.

In this order: a minute of warm-up on due and slow notes, pitch only; music at first sight, while fresh; short blocks on
slow notes and a passage; a new tune, pitch only; last, something signed off, played whole; a rest after every stretch.
What there is no music for is left out, and so is the least useful on a short day. `game.coach.plan_course` follows the
player through it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import exp

from game.coach import plan_reasons as reasons
from game.coach.items import ItemKey, map_name
from game.coach.knowing import finding, slowest, usual_find_s
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan_choices import new_tune, passage_under_way, signed_off_passage, tune_at_sight
from game.coach.plan_minutes import blocks
from game.coach.plan_steps import LineWish, PlanStep, Situation, StepKind
from game.coach.stages import Stage
from game.coach.weights import key_for, weights
from game.music.keys import Key

_REST = PlanStep(kind=StepKind.REST, minutes=0, reason=reasons.REST)


def plan_for(situation: Situation, numbers: CoachNumbers = NUMBERS) -> tuple[PlanStep, ...]:
    """The steps of today, in order. The same situation always gives the same plan."""
    offered = {step.kind: step for step in _offers(situation, numbers)}
    row = blocks(situation.minutes, offered.keys(), situation.done, numbers)
    return tuple(replace(offered.get(kind, _REST), minutes=minutes) for kind, minutes in row)


def slow_notes(situation: Situation, numbers: CoachNumbers = NUMBERS) -> tuple[ItemKey, ...]:
    """The notes of this map that cost the player most, the costliest first, as many as are practised at once."""
    on_map, places = map_name(situation.neck_map), situation.neck_map.places
    here = {
        key: item
        for key, item in situation.items.items()
        if key.map_name == on_map and places.get(key.sounding) == key.place
    }
    return slowest(here, numbers.slow_notes, numbers)


def _offers(situation: Situation, numbers: CoachNumbers) -> list[PlanStep]:
    """A step, its minutes still open, for each kind there is music for."""
    slow = slow_notes(situation, numbers)
    at_sight = tune_at_sight(situation)
    steps = [_warm_up(situation, slow, numbers)]
    if at_sight is None:
        line = LineWish(level=situation.level)
        steps.append(_step(StepKind.FIRST_SIGHT, reasons.LINE_AT_SIGHT, stage=Stage.SIGHT, line=line))
    else:
        said = reasons.tune_at_sight(at_sight.title)
        steps.append(_step(StepKind.FIRST_SIGHT, said, stage=Stage.SIGHT, tune=at_sight.name))
    steps.append(_slow_block(situation, slow, numbers))
    passage = passage_under_way(situation, numbers)
    if passage is not None:
        said = reasons.passage(passage)
        steps.append(_step(StepKind.PASSAGE, said, stage=passage.stage, passage=passage.name))
    new = new_tune(situation, at_sight, numbers)
    if new is not None:
        steps.append(_step(StepKind.NEW_TUNE, reasons.new_tune(new.title), stage=Stage.PLACES, tune=new.name))
    last = signed_off_passage(situation)
    if last is not None:
        said = reasons.signed_off(last, is_due=last.name in situation.due_passages)
        steps.append(_step(StepKind.SIGNED_OFF, said, stage=Stage.TIME, passage=last.name))
    return steps


def _step(
    kind: StepKind,
    reason: str,
    *,
    stage: Stage,
    line: LineWish | None = None,
    passage: str | None = None,
    tune: str | None = None,
) -> PlanStep:
    return PlanStep(kind=kind, minutes=0, reason=reason, stage=stage, line=line, passage=passage, tune=tune)


def _warm_up(situation: Situation, slow: Sequence[ItemKey], numbers: CoachNumbers) -> PlanStep:
    """A few notes: those that are due, then the slow ones."""
    on_map = map_name(situation.neck_map)
    due = [key for key in situation.due_notes if key.map_name == on_map]
    notes = tuple(dict.fromkeys([*due, *slow]))[: numbers.slow_notes]
    alike = dict.fromkeys(situation.neck_map.places, numbers.weight_least if notes else 1.0)
    wanted = alike | dict.fromkeys((key.sounding for key in notes), numbers.weight_most)
    line = LineWish(
        level=situation.level, key=_key(wanted, situation, numbers) if notes else None, weights=wanted, notes=notes
    )
    said = reasons.warm_up(due[: numbers.slow_notes], slow, situation.names)
    return _step(StepKind.WARM_UP, said, stage=Stage.PLACES, line=line)


def _slow_block(situation: Situation, slow: Sequence[ItemKey], numbers: CoachNumbers) -> PlanStep:
    wanted = weights(situation.items, situation.neck_map, due=situation.due_notes, numbers=numbers)
    usual_s = usual_find_s(situation.items, numbers)
    times = [(key, exp(finding(situation.items[key], usual_s, numbers).mean_log_s)) for key in slow]
    line = LineWish(
        level=situation.level, key=_key(wanted, situation, numbers) if slow else None, weights=wanted, notes=tuple(slow)
    )
    longest_first = sorted(times, key=lambda timed: -timed[1])
    said = reasons.slow_notes(longest_first, situation.names)
    return _step(StepKind.SLOW_NOTES, said, stage=Stage.PLACES, line=line)


def _key(wanted: Mapping[int, float], situation: Situation, numbers: CoachNumbers) -> Key:
    """A key in which the wanted notes occur, of no more signs than the player's level bears."""
    most = numbers.signs_at_first + situation.level // 2
    return key_for(wanted, situation.neck_map, [Key(fifths) for fifths in range(-most, most + 1)])
