"""The music of a step of today's plan, laid on the desk, and what follows a take of it."""

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
from game.practice.take_request import TakeRequest, request_for
from game.screens.choosing.fresh_requests import key_for_level, line_request
from game.screens.context import ScreenContext
from game.screens.routes import ToPage, ToPlanned, ToToday
from game.tunes.library.library import open_entry, shelf

_WARM_UP_BARS, _LINE_BARS = 4, 8


def planned_route(context: ScreenContext, route: ToPlanned, chance: Random) -> ToPage | ToToday:
    """The music of the step that stands next, what follows a take of it, or the plan when the step is over. Raises
    `TuneError` where the music is not to be had any more.
    """
    plan, after = context.session.plan, route.after
    if after is None:
        return ToPage(_open_step(context, chance), chosen=True)
    request = _next_of_step(plan, after.request, after.decision)
    if request is not None:
        return ToPage(request, chosen=True)
    if _wants_other_music(plan):
        return ToPage(_open_step(context, chance), chosen=True)
    plan.finish_step()
    return ToToday()


def _open_step(context: ScreenContext, chance: Random) -> TakeRequest:
    """The music of the step that stands next."""
    plan = context.session.plan
    step = plan.step
    if step is None or step.kind is StepKind.REST:
        raise TuneError("screen.nothing_played_now_plan")
    plan.begin_step()
    return replace(_opened(context, step, chance), planned=True, reason=step.reason)


def _next_of_step(plan: PlayerPlan, request: TakeRequest, decision: Decision) -> TakeRequest | None:
    """What follows a take of the plan while its step has time: the same bars as the coach says, or the next ones. None
    asks for other music, or for the next step when the time is over.
    """
    step = plan.step
    if step is None or not plan.time_left or step.kind in (StepKind.SIGNED_OFF, StepKind.FIRST_SIGHT):
        return None
    if step.kind is StepKind.PASSAGE and decision.offer is Offer.AGAIN:
        return request.as_decided(decision)
    if step.kind is StepKind.NEW_TUNE and not request.is_last:
        return request.moved(1)
    return None


def _wants_other_music(plan: PlayerPlan) -> bool:
    """Whether the step under way goes on with other music: another fresh line."""
    step = plan.step
    return step is not None and step.line is not None and plan.time_left


def _opened(context: ScreenContext, step: PlanStep, chance: Random) -> TakeRequest:
    if step.line is not None:
        request = _line(context, step, step.line, chance)
    elif step.passage is not None:
        request = _passage(context, step.passage)
    else:
        request = _from_shelf(context, step.tune)
    if step.stage is not None and step.stage.once_through:
        return request.at_sight()
    if step.kind is StepKind.PASSAGE:
        return request.as_decided(context.session.coach.open_passage(request.passage))
    if step.kind is StepKind.SIGNED_OFF:
        bpm = context.settings.target_bpm
        return replace(request.whole_or_passages().in_stage(Stage.TIME), tempo_bpm=bpm)
    return request.in_stage(step.stage or Stage.PLACES)


def _line(context: ScreenContext, step: PlanStep, wish: PlannedLine, chance: Random) -> TakeRequest:
    bars = _WARM_UP_BARS if step.kind is StepKind.WARM_UP else _LINE_BARS
    if step.kind is StepKind.SLOW_NOTES:
        wish = slow_notes_line(wish, _notes_by_now(context, context.session.notes, wish.level))
    key = wish.key or key_for_level(wish.level, chance)
    if not wish.single_notes:
        return line_request(context, wish.level, key, chance, bars=bars, weights=wish.weights)
    neck_map = context.settings.neck_map()
    row = single_notes(neck_map, key=key, bars=bars, rng=chance, weights=wish.weights)
    request = request_for(row, neck_map)
    # A row has no phrases to be divided by: all of it is one passage.
    return replace(request, passages=(whole_tune(request.passage.score),), fresh=True)


def _notes_by_now(context: ScreenContext, notes: PlayerNotes, level: int) -> Situation:
    """What the notes alone come to: a block on slow notes follows what is known of them from line to line."""
    return Situation(
        day=notes.day,
        neck_map=context.settings.neck_map(),
        level=level,
        items=notes.mastery.items,
        due_notes=due_notes(notes.mastery, notes.day),
    )


def _passage(context: ScreenContext, name: str) -> TakeRequest:
    place = context.session.plan.find_passage(name)
    if place is None:
        raise TuneError("screen.passage_step_shelf_any")
    request = request_for(open_entry(place.entry), context.settings.neck_map())
    context.session.last_opened = place.entry
    return request.moved(place.index)


def _from_shelf(context: ScreenContext, name: str | None) -> TakeRequest:
    entry = next((entry for entry in shelf() if entry.name == name), None)
    if entry is None:
        raise TuneError("screen.tune_step_shelf_any")
    context.session.last_opened = entry
    score = open_entry(entry)
    context.session.log.facts.open_tune(entry.name)
    return request_for(score, context.settings.neck_map())
