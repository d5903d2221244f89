"""A part of an assignment as a request: its tune or a fresh line, its bars, the stage that is left to do."""

from dataclasses import replace
from random import Random

from game.assignments.assignment import AssignedLines, AssignedTune
from game.assignments.set_against_done import Part, StageOfPart, parts_of
from game.coach.stages import Stage
from game.errors import TuneError
from game.neck.neck_map import NeckMap
from game.player.assigned_music import tune_request
from game.player.map_names import name_by_itself
from game.practice.assigned_take import AssignedTake
from game.practice.take_request import TakeRequest
from game.screens.choosing.fresh_requests import key_for_level, line_request
from game.screens.context import ScreenContext
from game.screens.routes import ToAssigned
from game.tunes.library.shelf_entry import ShelfEntry


def assigned_request(context: ScreenContext, route: ToAssigned, chance: Random) -> TakeRequest:
    """A part of an assignment on the desk, in the stage and on the page that are next, on the map and with the target
    that hold in it; of lines the one that is under way, else a fresh one. Nothing of the player's own is changed.
    Raises `HomefretError` for what is not there.
    """
    assignments, session = context.session.assignments, context.session
    assignment = assignments.of(route.assignment).assignment
    part = parts_of(assignment)[route.part]
    neck_map = assignments.map_of(assignment).neck_map
    if isinstance(part, AssignedLines):
        request = assignments.line_under_way(route.assignment, route.part)
        if request is None or request.neck_map != neck_map:
            request = part_request(context, part, None, neck_map, chance)
    else:
        entry = assignments.tune_of(route.assignment, route.part)
        request = part_request(context, part, entry, neck_map, chance)
        if entry is not None:
            assignments.name_tune(route.assignment, route.part, entry)
            session.last_opened = entry
            session.log.facts.open_tune(entry.name)
    assignments.lay(route.assignment, route.part, request)
    own = neck_map == context.settings.neck_map()
    request = replace(
        request,
        assigned=AssignedTake(assignment=route.assignment, part=route.part, target_bpm=part.target_bpm),
        map_name="" if own else name_by_itself(neck_map),
    )
    done = assignments.against_done(route.assignment)
    next_up = done.parts[route.part].next_up if done else StageOfPart(stage=next(iter(part.stages), None))
    request, stage = replace(request, index=min(next_up.page_left, len(request.passages) - 1)), next_up.stage
    if stage is None:
        return _as_coached(context, request)
    return in_set_stage(request, part, stage) if stage is not Stage.TIME else _in_time(context, request)


def part_request(
    context: ScreenContext,
    part: AssignedTune | AssignedLines,
    entry: ShelfEntry | None,
    neck_map: NeckMap,
    chance: Random,
) -> TakeRequest:
    """The music of a part, `entry` its tune. Raises `TuneError` for what is not there."""
    if isinstance(part, AssignedLines):
        key = key_for_level(part.level, neck_map, chance)
        return line_request(context, part.level, key, chance, neck_map=neck_map)
    if entry is None:
        raise TuneError("screen.tune_shelf_called_ask", title=part.title or part.file_name)
    return tune_request(entry, part, neck_map)


def in_set_stage(request: TakeRequest, part: Part, stage: Stage) -> TakeRequest:
    """The music of a part in one of its stages, at the player's own pace: at sight all of it, or the bars that were set
    and no others.
    """
    some_bars = isinstance(part, AssignedTune) and part.bars is not None
    return request.at_sight() if stage.once_through and not some_bars else request.in_stage(stage)


def _in_time(context: ScreenContext, request: TakeRequest) -> TakeRequest:
    """As the coach goes on there: with the click where the player is ready for it."""
    coached = _as_coached(context, request)
    return coached if coached.stage is Stage.TIME else request.in_stage(Stage.TIME)


def _as_coached(context: ScreenContext, request: TakeRequest) -> TakeRequest:
    return request.as_decided(context.session.coach.open_passage(request.passage, target_bpm=request.target_bpm))
