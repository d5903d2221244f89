"""The music of a step of today's plan, laid on the desk."""

from dataclasses import replace
from random import Random

from game.coach.decisions import Decision, Offer
from game.coach.notes.mastery import due_notes
from game.coach.plan.plan_lines import slow_notes_line
from game.coach.plan.plan_steps import PlannedLine, PlanStep, Situation, StepKind
from game.coach.stages import Stage
from game.errors import TuneError
from game.lines.single_notes import single_notes
from game.music.passage import whole_tune
from game.player.player_notes import PlayerNotes
from game.player.player_plan import PlayerPlan
from game.player.tunes_seen import now_seen
from game.screens.choosing.line_on_desk import line_asked_for, line_on_desk
from game.screens.context import ScreenContext
from game.screens.routes import TakeRequest, request_for
from game.tunes.library.library import open_entry, shelf

_WARM_UP_BARS, _LINE_BARS = 4, 8


def open_planned(around: ScreenContext, planning: PlayerPlan, chance: Random) -> TakeRequest:
    """The music of the step that stands next. Raises `TuneError` where it is not to be had any more."""
    step = planning.step
    if step is None or step.kind is StepKind.REST:
        raise TuneError("screen.nothing_played_now_plan")
    planning.begin_step()
    return replace(_opened(around, planning, step, chance), planned=True, reason=step.reason)


def next_planned(planning: PlayerPlan, tune: TakeRequest, decision: Decision | None) -> TakeRequest | None:
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


def wants_other_music(planning: PlayerPlan) -> bool:
    """Whether the step under way goes on with other music: another fresh line."""
    step = planning.step
    return step is not None and step.line is not None and planning.time_left


def _opened(around: ScreenContext, planning: PlayerPlan, step: PlanStep, chance: Random) -> TakeRequest:
    if step.line is not None:
        tune = _line(around, step, step.line, chance)
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


def _line(around: ScreenContext, step: PlanStep, wish: PlannedLine, chance: Random) -> TakeRequest:
    bars = _WARM_UP_BARS if step.kind is StepKind.WARM_UP else _LINE_BARS
    if step.kind is StepKind.SLOW_NOTES and around.mastering is not None:
        wish = slow_notes_line(wish, _notes_by_now(around, around.mastering, wish.level))
    key = wish.key or line_asked_for(wish.level, chance)
    if not wish.single_notes:
        return line_on_desk(around, wish.level, key, chance, bars=bars, weights=wish.weights)
    neck_map = around.settings.neck_map()
    row = single_notes(neck_map, key=key, bars=bars, rng=chance, weights=wish.weights)
    tune = request_for(row, neck_map)
    # A row has no phrases to be divided by: all of it is one passage.
    return replace(tune, passages=(whole_tune(tune.passage.score),), fresh=True)


def _notes_by_now(around: ScreenContext, mastering: PlayerNotes, level: int) -> Situation:
    """What the notes alone come to: a block on slow notes follows what is known of them from line to line."""
    return Situation(
        day=mastering.day,
        neck_map=around.settings.neck_map(),
        level=level,
        items=mastering.mastery.items,
        due_notes=due_notes(mastering.mastery, mastering.day),
    )


def _passage(around: ScreenContext, planning: PlayerPlan, name: str) -> TakeRequest:
    place = planning.where(name)
    if place is None:
        raise TuneError("screen.passage_step_shelf_any")
    tune = request_for(open_entry(place.entry), around.settings.neck_map())
    around.opened = place.entry
    return tune.moved(place.index)


def _from_shelf(around: ScreenContext, name: str | None) -> TakeRequest:
    entry = next((entry for entry in shelf() if entry.name == name), None)
    if entry is None:
        raise TuneError("screen.tune_step_shelf_any")
    around.opened = entry
    score = open_entry(entry)
    now_seen(entry.name, around.own_folder)
    return request_for(score, around.settings.neck_map())
