"""What a take is asked by, and where it leads when it is over."""

from fractions import Fraction

from game.coach.events import Wish
from game.coach.stages import Pulse
from game.judging.swing import STRAIGHT
from game.player.player_log import LogTakeRecorder
from game.practice.finished_take import Finished, FinishedTake
from game.practice.take_request import TakeRequest
from game.practice_log.rows.log_records import Terms
from game.screens.context import ScreenContext
from game.screens.routes import ToPage, ToResult


def timed_terms(request: TakeRequest, *, swing: float = STRAIGHT, self_marked: bool = False) -> Terms:
    """What a take is asked whose rhythm counts, for the log."""
    beat: Fraction = request.passage.bars[0].meter.beat_length
    return Terms(
        stage=request.stage,
        pulse=Pulse.FREE if request.tempo_bpm is None else Pulse.METRONOME,
        tempo_bpm=request.tempo_bpm,
        beat_length=beat,
        swing=swing,
        pitch_counts=request.stage.pitch_counts,
        settling=request.settling,
        self_marked=self_marked,
    )


def result_of(
    context: ScreenContext, request: TakeRequest, finished: Finished, recorder: LogTakeRecorder
) -> ToResult | None:
    """The result of a take that has ended, with what the coach says of it; None for one in which nothing was done."""
    done = finished.played if isinstance(finished, FinishedTake) and finished.timed else finished.read
    if not done:
        return None
    return ToResult(request, finished, context.session.finish_take(finished, recorder))


def overruled(context: ScreenContext, request: TakeRequest, wish: Wish) -> ToPage:
    """The player wants it otherwise; the coach learns from it."""
    decision = context.session.coach.overrule(request.passage, wish)
    return ToPage(request.told(decision), chosen=True)
