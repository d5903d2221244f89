"""What comes after a take out of an assignment whose stage is done by now: what was set next, and not what the coach
would go on with.
"""

from contextlib import suppress
from dataclasses import dataclass, replace

from game.assignments.set_against_done import DoneOfPart, StageOfPart
from game.errors import HomefretError
from game.message import Message, message
from game.practice.assigned_take import AssignedTake
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.routes import Back, Route, ToAssigned


@dataclass(frozen=True, slots=True, kw_only=True)
class NextInSet:
    """The way there, in a sentence, and in the few words of the corner."""

    route: Route
    now: Message
    corner: Message


def next_in_set(context: ScreenContext, request: TakeRequest) -> NextInSet | None:
    """After a take of `request`: the next of the pages that were set, or the assignment, with its other stages and
    parts. None where the coach leads: outside of an assignment, while the stage that was set is not done on the page
    at hand, in one on the way to it, and where the teacher left the stages to the coach.
    """
    assigned = request.assigned
    part = _part(context, assigned) if assigned is not None and request.around is None else None
    if assigned is None or part is None:
        return None
    stage = next((one for one in part.stages if one.stage is request.stage), None)
    if stage is None:
        return None
    if _is_over(part, stage, request):
        return NextInSet(route=Back(), now=message("now.assignment"), corner=message("corner.assignment"))
    # Pages that come after one that was left out are not told apart, nor what is done ahead of an earlier stage.
    if stage != part.next_up or not request.index < stage.page_left < len(request.passages):
        return None
    bars = bars_in_words(replace(request, index=stage.page_left).passage)
    return NextInSet(
        route=ToAssigned(assigned.assignment, assigned.part),
        now=message("now.bars", bars=bars),
        corner=message("corner.bars", bars=bars),
    )


def _part(context: ScreenContext, assigned: AssignedTake) -> DoneOfPart | None:
    """How far the part is that the take was of; None where nobody can tell."""
    with suppress(HomefretError):
        done = context.session.assignments.against_done(assigned.assignment)
        if done is not None and assigned.part < len(done.parts):
            return done.parts[assigned.part]
    return None


def _is_over(part: DoneOfPart, stage: StageOfPart, request: TakeRequest) -> bool:
    """Whether nothing of the stage is left: of lines the one that was laid on the desk last is read where none is under
    way.
    """
    return stage.done or part.done or (request.fresh and not part.next_up.pages)
