"""Where a take leads: to its result, or to another take of the same bars when the player overrules the coach."""

from dataclasses import replace

from game.coach.events import Wish
from game.player.player_log import LogTakeRecorder
from game.practice.finished_take import Finished, FinishedTake
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.routes import ToPage, ToResult


def result_route(
    context: ScreenContext, request: TakeRequest, finished: Finished, recorder: LogTakeRecorder
) -> ToResult | None:
    """The result of a take that has ended, with what the coach says of it; None for one in which nothing was done."""
    done = finished.played if isinstance(finished, FinishedTake) and finished.timed else finished.read_count
    if not done:
        return None
    if isinstance(finished, FinishedTake) and request.free_reading:
        finished = replace(finished, free_on=request.neck_map)
    decision = context.session.finish_take(finished, recorder, target_bpm=request.target_bpm)
    return ToResult(request, finished, decision)


def overruled_route(context: ScreenContext, request: TakeRequest, wish: Wish, tempo_bpm: int | None = None) -> ToPage:
    """The player wants it otherwise, perhaps at a tempo in the metre's own beat; the coach learns from it."""
    decision = context.session.coach.overrule(request.passage, wish, tempo_bpm, target_bpm=request.target_bpm)
    return ToPage(request.as_decided(decision), chosen=True)
