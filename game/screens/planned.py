"""The music of a step of today's plan, laid on the desk."""

from dataclasses import replace
from random import Random

from game.coach.decisions import Decision, Offer
from game.coach.plan_steps import LineWish, PlanStep, StepKind
from game.coach.stages import Stage
from game.desk.surroundings import Surroundings
from game.errors import TuneError
from game.planning import Planning
from game.screens.destinations import OpenTune, open_tune
from game.screens.fresh_line import line_asked_for, line_on_desk
from game.tunes.library import open_entry, shelf
from game.tunes.seen import now_seen

_WARM_UP_BARS, _LINE_BARS = 4, 8


def open_planned(around: Surroundings, planning: Planning, chance: Random) -> OpenTune:
    """The music of the step that stands next. Raises `TuneError` where it is not to be had any more."""
    step = planning.step
    if step is None or step.kind is StepKind.REST:
        raise TuneError("nothing is to be played now: the plan is done, or it is time for a rest")
    planning.begin_step()
    return replace(_opened(around, planning, step, chance), planned=True, reason=step.reason)


def next_planned(planning: Planning, tune: OpenTune, decision: Decision | None) -> OpenTune | None:
    """What follows a take of the plan while its step has time: the same bars as the coach says, or the next ones. None
    asks for other music, or for the next step when the time is over.
    """
    step = planning.step
    if step is None or not planning.time_left or step.kind in (StepKind.SIGNED_OFF, StepKind.FIRST_SIGHT):
        return None
    if step.kind is StepKind.PASSAGE and decision is not None and decision.offer is Offer.AGAIN:
        return tune.told(decision)
    if step.kind is StepKind.NEW_TUNE and not tune.last:
        return tune.moved(1)
    return None


def wants_other_music(planning: Planning) -> bool:
    """Whether the step under way goes on with other music: another fresh line."""
    step = planning.step
    return step is not None and step.line is not None and planning.time_left


def _opened(around: Surroundings, planning: Planning, step: PlanStep, chance: Random) -> OpenTune:
    if step.line is not None:
        tune = _line(around, step.line, chance, short=step.kind is StepKind.WARM_UP)
    elif step.passage is not None:
        tune = _passage(around, planning, step.passage)
    else:
        tune = _from_shelf(around, step.tune)
    if step.stage is Stage.SIGHT:
        return tune.at_sight()
    if step.kind is StepKind.PASSAGE and around.coaching is not None:
        return tune.told(around.coaching.opened(tune.passage))
    if step.kind is StepKind.SIGNED_OFF:
        bpm = around.settings.target_bpm
        return replace(tune.whole_or_passages().in_stage(Stage.TIME), tempo_bpm=bpm)
    return tune.in_stage(step.stage or Stage.PLACES)


def _line(around: Surroundings, wish: LineWish, chance: Random, *, short: bool) -> OpenTune:
    key = wish.key or line_asked_for(wish.level, chance)
    return line_on_desk(
        around, wish.level, key, chance, bars=_WARM_UP_BARS if short else _LINE_BARS, weights=wish.weights
    )


def _passage(around: Surroundings, planning: Planning, name: str) -> OpenTune:
    place = planning.where(name)
    if place is None:
        raise TuneError("the passage of this step is not on the shelf any more: skip the step")
    tune = open_tune(open_entry(place.entry), around.settings.neck_map())
    around.opened = place.entry
    return tune.moved(place.index)


def _from_shelf(around: Surroundings, name: str | None) -> OpenTune:
    entry = next((entry for entry in shelf() if entry.name == name), None)
    if entry is None:
        raise TuneError("the tune of this step is not on the shelf any more: skip the step")
    around.opened = entry
    score = open_entry(entry)
    now_seen(entry.name, around.own_folder)
    return open_tune(score, around.settings.neck_map())
