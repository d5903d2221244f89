"""A take against the click that may begin: where it is written down, by which terms it is judged, and its clicks."""

from game.audio.beats import ClickRow, ClickSettings, clicks_of, even_clicks
from game.judging.swing import STRAIGHT, default_swing
from game.player.player_log import LogTakeRecorder
from game.practice.take_request import TakeRequest
from game.practice.timed_take import TimedTake, TimedTerms
from game.screens.context import ScreenContext
from game.screens.reading.bass_and_chords_for import steadiness_in, take_accompaniment
from game.screens.reading.timed_terms import timed_terms


def begun_timed_take(context: ScreenContext, request: TakeRequest) -> tuple[LogTakeRecorder, TimedTake]:
    """A take that may begin, and where it is written down: times count from its time 0."""
    assert request.tempo_bpm is not None, "a page with a click has a tempo"
    quarter_bpm = request.tempo_bpm * float(request.passage.bars[0].meter.beat_length)
    swung = request.score.swung and not request.one_a_click
    terms = TimedTerms(
        stage=request.stage,
        tempo_bpm=request.tempo_bpm,
        swing=default_swing(quarter_bpm) if swung else STRAIGHT,
        one_a_click=request.one_a_click,
        settling=request.settling,
    )
    in_log = timed_terms(request, swing=terms.swing)
    recorder = context.session.recorder(request.passage, request.judged_on, in_log, zero_s=0.0)
    return recorder, TimedTake(request.passage, request.judged_on, terms, recorder=recorder)


def prepared_clicks(
    context: ScreenContext, request: TakeRequest, take: TimedTake, recorder: LogTakeRecorder, first_bar: int
) -> ClickRow:
    """The clicks from a bar on, rendered: that is for before the count-in. They go on for who is behind."""
    settings = ClickSettings(tempo_bpm=take.terms.tempo_bpm, clicking=context.settings.clicking, swing=take.terms.swing)
    if request.one_a_click:
        row = even_clicks(len(take.expected), settings)
    else:
        row = clicks_of(request.passage.bars[first_bar:], settings)
    band = take_accompaniment(context, request, recorder, row, swing=take.terms.swing, first_bar=first_bar)
    context.devices.sound.metronome.prepare(
        row,
        looping=True,
        accompaniment=band,
        accompanied_again=request.looping,
        steadiness=steadiness_in(context, request),
    )
    return row
