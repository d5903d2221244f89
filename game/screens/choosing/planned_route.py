"""The music of a step of today's plan, laid on the desk, and what follows a take of it."""

from dataclasses import replace
from random import Random

from game.coach.decisions import Decision, Offer
from game.coach.events import Wish
from game.coach.notes.mastery import due_notes
from game.coach.notes.weights import slow_pitches
from game.coach.numbers import NUMBERS
from game.coach.plan.mixed_maps import map_after
from game.coach.plan.plan_lines import key_in_turn, slow_notes_line
from game.coach.plan.plan_onward import Onward, PlannedNext, planned_next
from game.coach.plan.plan_reasons import passage as passage_reason
from game.coach.plan.plan_steps import MapInPlan, PassageStanding, PlannedLine, PlanStep, Situation, StepKind
from game.coach.stage_steps import rhythm_comes_first
from game.coach.stages import Stage
from game.errors import TuneError
from game.lines.single_notes import single_notes
from game.music.passage import whole_tune
from game.neck.neck_map import NeckMap
from game.practice.take_request import TakeRequest, request_for
from game.screens.choosing.fresh_requests import key_for_level, line_request
from game.screens.context import ScreenContext
from game.screens.routes import ToListening, ToPage, ToPlanned, ToToday
from game.tunes.library.library import open_entry, shelf

_WARM_UP_BARS, _LINE_BARS = 4, 8
_ROW_BARS = 4
"""Of single notes, sixteen: more in a row, without a tune in them, nobody reads with their mind on it."""


def planned_route(context: ScreenContext, route: ToPlanned, chance: Random) -> ToPage | ToListening | ToToday:
    """The music of the step that stands next, or what follows a take of it: the plan when the step is over. Raises
    `TuneError` where the music is not to be had any more.
    """
    then = route.then
    if then is None or route.request is None or route.decision is None:
        request, step = _open_step(context, chance), context.session.plan.step
        heard = step is not None and step.kind is StepKind.HEARD_WHOLE
        return ToListening(request) if heard else ToPage(request, chosen=True)
    match then.onward:
        case Onward.AS_ADVISED:
            return ToPage(route.request.as_decided(route.decision), chosen=True)
        case Onward.NEXT_BARS:
            return ToPage(replace(route.request.moved(1).in_stage(Stage.PLACES), reason=then.reason), chosen=True)
        case Onward.OTHER_LINE | Onward.COURSE_BARS:
            return ToPage(_open_step(context, chance, after=route.request), chosen=True)
        case Onward.OTHER_PASSAGE if then.passage is not None:
            return ToPage(_other_passage(context, then.passage), chosen=True)
    context.session.plan.finish_step()
    return ToToday()


def then_in_plan(context: ScreenContext, request: TakeRequest, decision: Decision) -> PlannedNext:
    """What follows a take of the plan, and the advice that says so."""
    plan = context.session.plan
    return planned_next(
        plan.step,
        decision,
        time_left=plan.time_left,
        more_bars=plan.course_goes_on if plan.step and plan.step.kind is StepKind.COURSE else not request.is_last,
        other=plan.next_after(decision.passage) if decision.offer is not Offer.AGAIN else None,
    )


def _open_step(context: ScreenContext, chance: Random, after: TakeRequest | None = None) -> TakeRequest:
    """The music of the step that stands next, `after` a take of it."""
    plan = context.session.plan
    step = plan.step
    if step is None or step.kind is StepKind.REST:
        raise TuneError("screen.nothing_played_now_plan")
    plan.begin_step()
    on = map_after(step, after.neck_map if after else None)
    request = step_request(context, step, chance, on)
    return replace(request, planned=True, reason=step.reason, map_name=on.name if on else "")


def _other_passage(context: ScreenContext, standing: PassageStanding) -> TakeRequest:
    """Another passage in the same step."""
    request = _as_the_coach_opens(context, standing.name)
    return replace(request, planned=True, reason=(passage_reason(standing),))


def _as_the_coach_opens(context: ScreenContext, name: str) -> TakeRequest:
    request, coach = _passage(context, name), context.session.coach
    opened = request.as_decided(coach.open_passage(request.passage))
    record = coach.record_of(request.passage)
    return opened.in_stage(Stage.RHYTHM) if record is not None and rhythm_comes_first(record) else opened


def _of_course(context: ScreenContext, name: str, stage: Stage) -> TakeRequest:
    """Bars of a course, as this time through asks for them, whatever the coach would ask."""
    request = _passage(context, name)
    if stage is Stage.TIME:
        return request.as_decided(context.session.coach.overrule(request.passage, Wish.METRONOME_NOW))
    return request.in_stage(stage)


def step_request(context: ScreenContext, step: PlanStep, chance: Random, on: MapInPlan | None = None) -> TakeRequest:
    """The music of a step, in its stage, its line on a map of the step. Raises `TuneError` where it is not to be had
    any more.
    """
    if step.line is not None:
        request = _line(context, step, step.line, chance, on)
    elif step.whole and step.passage is not None:
        whole = _passage(context, step.passage).whole_or_passages()
        return replace(whole.in_stage(Stage.TIME), tempo_bpm=context.settings.target_bpm)
    elif step.kind is StepKind.COURSE and step.passage is not None:
        return _of_course(context, step.passage, step.stage or Stage.PLACES)
    elif step.passage is not None:
        return _as_the_coach_opens(context, step.passage)
    else:
        request = _from_shelf(context, step.tune)
    if step.stage is not None and step.stage.once_through:
        return request.at_sight()
    request = request.in_stage(step.stage or Stage.PLACES)
    return request.freely() if step.kind is StepKind.FREE_READING else request


def _line(
    context: ScreenContext, step: PlanStep, wish: PlannedLine, chance: Random, on: MapInPlan | None
) -> TakeRequest:
    bars = _WARM_UP_BARS if step.kind is StepKind.WARM_UP else _LINE_BARS
    neck_map = on.neck_map if on else context.settings.neck_map()
    if step.kind is StepKind.SLOW_NOTES:
        in_tune = chance.random() < NUMBERS.melodies_among_rows
        now = _notes_by_now(context, neck_map, wish.level)
        if on is not None and on != step.maps[0]:
            # Its key was chosen for the notes of the first map.
            key = key_in_turn(now.day, slow_pitches(now.items, neck_map), now)
            wish = replace(wish, notes=(), new=(), key=key)
        wish = slow_notes_line(wish, now, in_tune=in_tune)
    key = wish.key or key_for_level(wish.level, neck_map, chance)
    if not wish.single_notes:
        request = line_request(context, wish.level, key, chance, bars=bars, weights=wish.weights, neck_map=neck_map)
        return request if step.kind is StepKind.FIRST_SIGHT else _in_one(request)
    row = single_notes(neck_map, key=key, bars=_ROW_BARS, rng=chance, weights=wish.weights)
    return _in_one(request_for(row, neck_map))


def _in_one(request: TakeRequest) -> TakeRequest:
    """A line for its notes is one take: a row has no phrases to be divided by, and of a melody half is soon over."""
    return replace(request, passages=(whole_tune(request.passage.score),), fresh=True)


def _notes_by_now(context: ScreenContext, neck_map: NeckMap, level: int) -> Situation:
    """What the notes of a map alone come to: a block on slow notes follows what is known of them from line to line."""
    notes, own = context.session.notes, neck_map == context.settings.neck_map()
    return Situation(
        day=notes.day,
        neck_map=neck_map,
        level=level,
        items=notes.mastery.items,
        due_notes=due_notes(notes.mastery, notes.day),
        known=context.session.plan.known.pitches_of_a_beginner() if own else None,
        met_today=notes.met_first_today(neck_map) if own else frozenset(),
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
