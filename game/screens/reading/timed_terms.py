"""What a take is asked whose rhythm counts, as the log has it."""

from fractions import Fraction

from game.coach.stages import Pulse
from game.judging.swing import STRAIGHT
from game.practice.take_request import TakeRequest
from game.practice_log.rows.log_records import Terms


def timed_terms(request: TakeRequest, *, swing: float = STRAIGHT, self_marked: bool = False) -> Terms:
    """The terms of a take of a request, in its own stage and by its own clock."""
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
