"""Bass and chords of a page: in a take where they may be, and beside a tune that is heard as it is written; and how
much of the click a take needs.
"""

from fractions import Fraction

from game.audio.accompaniment import AccompanimentNote, accompaniment_of
from game.audio.beats import ClickRow, quarter_tempo
from game.audio.chord_spans import chord_in_force
from game.audio.played_tune import played_tune
from game.coach.climb import steadiness
from game.coach.records import PassageRecord
from game.coach.sightings import is_reading
from game.judging.swing import STRAIGHT, default_swing
from game.music.feel import suited_manner
from game.music.passage import Passage
from game.player.player_log import LogTakeRecorder
from game.practice.accompanied import is_accompanied
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.reading.playback_lines import USUAL_BPM


def take_accompaniment(
    context: ScreenContext,
    request: TakeRequest,
    recorder: LogTakeRecorder,
    row: ClickRow,
    *,
    swing: float,
    first_bar: int = 0,
) -> tuple[AccompanimentNote, ...]:
    """What accompanies a take from a bar of its passage on, beside the clicks of `row`; nothing where it may not be,
    and nothing that a microphone would hear as played: that is said once.

    Not to be asked for during a take: for two hundred bars it takes some tens of milliseconds.
    """
    sighting = recorder.begun.sighting
    reading = is_reading(
        request.stage, sighting=sighting.nth, heard=sighting.heard, known_by_ear=bool(sighting.known_by_ear)
    )
    below = _rungs_below(context, request)
    if not is_accompanied(request, context.settings.accompanied, reading=reading, rungs_below=below):
        return ()
    passage = request.passage
    band = accompaniment_of(
        passage.bars[first_bar:],
        passage.reading,
        quarter_bpm=row.quarter_bpm,
        manner=suited_manner(context.settings.manner, passage.score),
        swing=swing,
        before=chord_in_force(passage.score.bars[: passage.start + first_bar]),
    )
    if band and context.hears_itself:
        context.say_once("microphone.no_band")
        return ()
    return band


def hear_passage(context: ScreenContext, passage: Passage, *, tempo_bpm: float | None = None) -> None:
    """Sound a passage as written, from its first bar line, at a tempo in its own beats, with bass and chords where it
    has chord symbols. They are there, unheard, where the player wants none: so they come the moment they are wished. It
    counts as heard.
    """
    meter = passage.bars[0].meter
    quarter_bpm = quarter_tempo(tempo_bpm, meter) if tempo_bpm else Fraction(USUAL_BPM) * meter.beat_length
    tune = played_tune(
        passage,
        quarter_bpm=quarter_bpm,
        swing=default_swing(float(quarter_bpm)) if passage.score.swung else STRAIGHT,
        manner=suited_manner(context.settings.manner, passage.score),
    )
    sound = context.devices.sound
    sound.set_volumes(context.settings.volumes)
    sound.play((tune.line,), context.clock, accompaniment=tune.accompaniment)
    context.session.log.facts.mark_heard(passage)


def steadiness_in(context: ScreenContext, request: TakeRequest) -> float:
    """How steady the player was in these bars, 0 to 1; 0 at first sight and in what is played for the first time."""
    record = _record(context, request)
    return steadiness(record.climb) if record is not None and not request.stage.once_through else 0.0


def _rungs_below(context: ScreenContext, request: TakeRequest) -> int:
    """How many tempi slower than that of the take were kept in these bars."""
    record = _record(context, request)
    kept = record.kept_bpms if record is not None else ()
    return sum(bpm < (request.tempo_bpm or 0) for bpm in kept)


def _record(context: ScreenContext, request: TakeRequest) -> PassageRecord | None:
    return context.session.coach.record_of(request.passage)
