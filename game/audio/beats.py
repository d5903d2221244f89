"""Where the clicks of a take fall: from its bars and a few settings to a row of onsets. Pure.

Score time is counted in quarter notes from onset 0, where the passage begins; the count-in lies before it and
is negative. The tempo is that of the first bar's own beat (the dotted quarter in 6/8) and constant within a
take: where the metre changes, the quarter note keeps its length (trade).
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction

from game.audio.click_bars import ClickBar, bars_back, count_in_bars, placed_bars
from game.errors import TakeError
from game.judging.swing import STRAIGHT, checked_swing, off_beat_share, swung_off_beats
from game.judging.tolerance import tempo_range
from game.music.clicking import Clicking
from game.music.meter import Meter
from game.music.score import Bar

SUBDIVIDED_BELOW_BPM = 60.0
"""Below this tempo, in the metre's own beat, subdivisions are heard unless the player says otherwise."""

_EXACT = 1000
"""Tempo and swing are taken to a thousandth, so that every onset is an exact fraction."""


class ClickKind(Enum):
    """What a click marks."""

    ACCENT = "accent"
    BEAT = "beat"
    SUBDIVISION = "subdivision"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClickSettings:
    """How the metronome goes.

    `tempo_bpm` counts the first bar's own beats. `subdivisions` None: heard below 60, on every beat only.
    `count_in_bars` None: one bar, two where a bar has fewer than three beats; at most 8. `swing` is long:short,
    1 to 3.5, for the off-beat eighths of metres in quarters or halves.
    """

    tempo_bpm: float
    clicking: Clicking = Clicking.EVERY_BEAT
    subdivisions: bool | None = None
    count_in_bars: int | None = None
    swing: float = STRAIGHT


@dataclass(frozen=True, slots=True, kw_only=True)
class Click:
    """One click, `onset_s` seconds from onset 0."""

    onset_quarters: Fraction
    onset_s: float
    kind: ClickKind


@dataclass(frozen=True, slots=True, kw_only=True)
class ClickRow:
    """All clicks of a take, each row rising.

    `count_in` lies before onset 0, from `start_quarters` on; `music` from 0 to `end_quarters`, not included.
    When the passage loops its next beginning is at `loop_quarters`: later than the end where the last bar must be
    filled up for the first to come at its right beat; `leading_back` are the clicks there.
    """

    quarter_bpm: Fraction
    start_quarters: Fraction
    count_in: tuple[Click, ...]
    music: tuple[Click, ...]
    end_quarters: Fraction
    leading_back: tuple[Click, ...]
    loop_quarters: Fraction

    def exact_s(self, quarters: Fraction) -> Fraction:
        """Score time in seconds, exactly."""
        return quarters * 60 / self.quarter_bpm

    @property
    def end_s(self) -> float:
        """Where the last bar ends."""
        return float(self.exact_s(self.end_quarters))

    @property
    def loop_s(self) -> float:
        """From one beginning of the looped passage to the next."""
        return float(self.exact_s(self.loop_quarters))


def clicks_of(bars: Sequence[Bar], settings: ClickSettings) -> ClickRow:
    """The clicks of a passage. `bars` are written out in order of play.

    Raises `TakeError` for a passage without bars, and for a tempo, a swing or a count-in out of range.
    """
    if not bars:
        raise TakeError("audio.no_bars")
    return _row(placed_bars(bars), settings)


def even_clicks(count: int, settings: ClickSettings) -> ClickRow:
    """`count` clicks a beat apart in 4/4, a quarter note each: for one written note a click, rhythm ignored.

    Raises `TakeError` as `clicks_of` does.
    """
    if count < 1:
        raise TakeError("audio.no_notes")
    whole = Meter().bar_length
    starts = [Fraction(at) for at in range(0, count, int(whole))]
    return _row(
        [
            ClickBar(meter=Meter(), first_beat=start, start=start, stop=min(start + whole, Fraction(count)))
            for start in starts
        ],
        settings,
    )


def click_shown(row: ClickRow, at_s: float, *, looping: bool = False) -> tuple[Click, float] | None:
    """The click last due at `at_s` from onset 0 and the seconds since, None before the first: the visible beat."""
    since_s = at_s
    clicks = row.count_in if at_s < 0 else row.music
    if looping and at_s >= 0:
        since_s = at_s % row.loop_s
        if row.leading_back and since_s >= row.leading_back[0].onset_s:
            clicks = row.leading_back
    index = bisect_right(clicks, since_s, key=lambda click: click.onset_s) - 1
    if index >= 0:
        return clicks[index], since_s - clicks[index].onset_s
    if at_s >= 0 and row.count_in:
        return row.count_in[-1], since_s - row.count_in[-1].onset_s
    return None


def quarter_tempo(tempo_bpm: float, meter: Meter) -> Fraction:
    """Quarter notes a minute at `tempo_bpm` of the metre's own beats. Raises `TakeError` outside the range of the
    metre.
    """
    beat = meter.beat_length
    slowest, fastest = (quarters / float(beat) for quarters in tempo_range(float(beat)))
    if not slowest <= tempo_bpm <= fastest:
        raise TakeError("audio.tempo_out_of_range", bpm=tempo_bpm, metre=meter.text, slowest=slowest, fastest=fastest)
    return Fraction(tempo_bpm).limit_denominator(_EXACT) * beat


def _row(bars: Sequence[ClickBar], settings: ClickSettings) -> ClickRow:
    first = bars[0]
    quarter_bpm = quarter_tempo(settings.tempo_bpm, first.meter)
    checked_swing(settings.swing)
    counting = count_in_bars(first, settings.count_in_bars)
    back = bars_back(first, bars[-1])
    every_beat = replace(settings, clicking=Clicking.EVERY_BEAT, subdivisions=_subdivided(settings))
    settings = replace(settings, subdivisions=_subdivided(settings))
    return ClickRow(
        quarter_bpm=quarter_bpm,
        start_quarters=counting[0].start if counting else Fraction(0),
        count_in=_clicks(counting, every_beat, quarter_bpm),
        music=_clicks(bars, settings, quarter_bpm),
        end_quarters=bars[-1].stop,
        leading_back=_clicks(back, settings, quarter_bpm),
        loop_quarters=back[-1].stop if back else bars[-1].stop,
    )


def _subdivided(settings: ClickSettings) -> bool:
    if settings.subdivisions is not None:
        return settings.subdivisions
    return settings.tempo_bpm < SUBDIVIDED_BELOW_BPM and settings.clicking is Clicking.EVERY_BEAT


def _clicks(bars: Sequence[ClickBar], settings: ClickSettings, quarter_bpm: Fraction) -> tuple[Click, ...]:
    return tuple(
        Click(onset_quarters=onset, onset_s=float(onset * 60 / quarter_bpm), kind=kind)
        for bar in bars
        for onset, kind in _bar_clicks(bar, settings)
    )


def _bar_clicks(bar: ClickBar, settings: ClickSettings) -> Iterator[tuple[Fraction, ClickKind]]:
    """Onsets and kinds of one bar, subdivisions swung."""
    positions = list(_positions(bar, subdivided=bool(settings.subdivisions)))
    swings = settings.swing != STRAIGHT and bar.meter.unit <= 4
    off_beats = swung_off_beats([at if swings else None for at, _ in positions])
    late = Fraction(off_beat_share(settings.swing)).limit_denominator(_EXACT) - Fraction(1, 2)
    for (at, beat), off_beat in zip(positions, off_beats, strict=True):
        onset = bar.first_beat + at + (late if off_beat else 0)
        if beat is None:
            yield onset, ClickKind.SUBDIVISION
        elif settings.clicking is Clicking.EVERY_BEAT or _back_beat(beat, bar.meter):
            yield onset, ClickKind.ACCENT if beat == 0 else ClickKind.BEAT


def _positions(bar: ClickBar, *, subdivided: bool) -> Iterator[tuple[Fraction, int | None]]:
    """Places in the bar counted from its first beat, with the number of the beat from 0, None between beats."""
    beat_length = bar.meter.beat_length
    parts = (3 if bar.meter.compound else 2) if subdivided else 1
    step = beat_length / parts
    index = -(-(bar.start - bar.first_beat) // step)
    while bar.first_beat + index * step < bar.stop:
        beat, part = divmod(int(index), parts)
        yield index * step, None if part else beat
        index += 1


def _back_beat(beat: int, meter: Meter) -> bool:
    """Whether a beat, from 0, is 2 or 4. Metres with an odd number of beats have no back beats: all are heard."""
    beats = meter.bar_length / meter.beat_length
    return beats % 2 == 1 or beat % 2 == 1
