"""The click for music the program does not know yet: bars of a metre, as many as it takes."""

from dataclasses import dataclass
from fractions import Fraction

from game.audio.beats import ClickSettings, clicks_of
from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Bar
from game.screens.context import ScreenContext

_BARS = 96
"""Rendered at once; then the click begins again, with no gap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StartedClick:
    """`zero_s` is when the first bar begins, behind the count-in."""

    zero_s: float
    quarter_s: float


def start_click(
    context: ScreenContext, meter: Meter, tempo_bpm: float, *, pickup: Fraction = Fraction(0), bars: int = _BARS
) -> StartedClick:
    """Count in and click on, until it is stopped. The tempo counts the metre's own beats; a pickup comes before the
    first bar line. Raises `HomefretError` for a tempo out of the metre's range, or sounds that cannot be read.
    """
    row = [Bar(number="", meter=meter, key=Key(), length=meter.bar_length, events=()) for _ in range(bars)]
    if pickup:
        row.insert(0, Bar(number="", meter=meter, key=Key(), length=pickup, events=(), pickup=True))
    settings = ClickSettings(tempo_bpm=tempo_bpm, clicking=context.settings.clicking)
    sound = context.devices.sound
    sound.metronome.prepare(clicks_of(row, settings), looping=True)
    zero_s = sound.start_clicks(context.clock)
    context.say_sound()
    return StartedClick(zero_s=zero_s, quarter_s=60.0 / (tempo_bpm * float(meter.beat_length)))


def beat_shown(context: ScreenContext, meter: Meter, now_s: float, *, pickup: Fraction = Fraction(0)) -> str:
    """The count of now, empty while no click goes; `pickup` as it was started."""
    shown = context.devices.sound.metronome.beat(now_s)
    if shown is None:
        return ""
    beats = max(1, int(meter.bar_length / meter.beat_length))
    return str(int((shown[0].onset_quarters - pickup) // meter.beat_length) % beats + 1)
