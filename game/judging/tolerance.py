"""When each written note is due, and how far from it a played note is still in time.

The tolerance is a quarter of a beat, within 60 to 150 ms, and always under 45 % of the gap to the next
written onset. It depends on tempo and rhythm only; player or teacher may set it by hand, the coach may not.
The numbers are ours; `mir_eval` 0.8 evaluates onsets within 50 ms, its bounds in time as ours are.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from game.errors import TakeError
from game.judging.swing import STRAIGHT, WIDEST_IN_TIME, checked_swing, off_beat_share, swung_off_beats
from game.music.meter import Meter
from game.music.score import Bar
from game.music.written import WrittenNote

BEAT_SHARE = 0.25
SMALLEST_MS, LARGEST_MS = 60.0, 150.0
GAP_SHARE = 0.45
SLOWEST_BPM, FASTEST_BPM = 20.0, 400.0

_UNDER_MS = 0.002
"""By how much a tolerance stays under its share of the gap: far below what can be measured."""

_EDGE_S = 1e-6
"""Offsets are differences of floats: an edge is met to a microsecond."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSpan:
    """A bar as the clock sees it: where its first beat falls (quarter notes from the start) and its metre.

    A pickup bar's first beat lies before its first note, so that its beats meet those of the next bar.
    """

    start: Fraction
    meter: Meter


COMMON_TIME = (BarSpan(start=Fraction(0), meter=Meter()),)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedGrid:
    """The clock's side of a take, one entry a note in each row.

    `onsets_s` are due times from time 0 of the take and never fall; a played note is in time from `early_s`
    before to `late_s` after, both edges in. `beats_s` is the felt beat where the note stands.
    `beat_positions` and `off_beats` are what `played_swing` asks for.
    """

    onsets_s: tuple[float, ...]
    early_s: tuple[float, ...]
    late_s: tuple[float, ...]
    beats_s: tuple[float, ...]
    beat_positions: tuple[Fraction | None, ...]
    off_beats: tuple[bool, ...]


def in_time(grid: TimedGrid, index: int, offset_s: float) -> bool:
    """Whether an offset from when note `index` is due is within its tolerance, edges in, to a microsecond."""
    return -grid.early_s[index] - _EDGE_S <= offset_s <= grid.late_s[index] + _EDGE_S


def each_in_time(grid: TimedGrid, offsets_s: Sequence[float]) -> list[bool]:
    """The same of an offset for each note."""
    bounds = zip(offsets_s, grid.early_s, grid.late_s, strict=True)
    return [-early_s - _EDGE_S <= offset_s <= late_s + _EDGE_S for offset_s, early_s, late_s in bounds]


def tolerance_ms(beat_ms: float, gap_ms: float | None) -> float:
    """Half the width of the time in which a note is in time.

    `beat_ms` is the felt beat, `gap_ms` the time to the next written onset (None after the last note).
    """
    width_ms = min(max(BEAT_SHARE * beat_ms, SMALLEST_MS), LARGEST_MS)
    return width_ms if gap_ms is None else max(0.0, min(width_ms, GAP_SHARE * gap_ms - _UNDER_MS))


def beats_at(onsets: Sequence[Fraction], spans: Sequence[BarSpan]) -> tuple[float, ...]:
    """The felt beat at each onset, in quarter notes."""
    return tuple(float(span.meter.beat_length) for span in _spans_at(onsets, spans))


def tempo_range(beat_length: float) -> tuple[float, float]:
    """The slowest and the fastest tempo, in quarter notes a minute: 20 to 400, and where a beat (in quarters) is less
    than 1, from 20 beats on: who counts eighths may count them as slowly as others their quarters.
    """
    return SLOWEST_BPM * min(beat_length, 1.0), FASTEST_BPM


def checked_tempo(tempo_bpm: float, beat_length: float = 1.0) -> float:
    """The tempo itself, in quarter notes a minute. Raises `TakeError` outside the range of its metre."""
    slowest, fastest = tempo_range(beat_length)
    if not slowest <= tempo_bpm <= fastest:
        raise TakeError("judging.tempo_out_of_range", bpm=tempo_bpm, slowest=slowest, fastest=fastest)
    return tempo_bpm


def bar_spans(bars: Sequence[Bar]) -> tuple[BarSpan, ...]:
    """The spans of written-out bars, counted from the start of the first."""
    spans = []
    start = Fraction(0)
    for bar in bars:
        end = start + bar.length
        first_beat = end - bar.meter.bar_length if bar.pickup else start
        spans.append(BarSpan(start=first_beat, meter=bar.meter))
        start = end
    return tuple(spans)


def timed_grid(
    notes: Sequence[WrittenNote],
    *,
    tempo_bpm: float,
    spans: Sequence[BarSpan] = COMMON_TIME,
    swing: float = STRAIGHT,
    start: Fraction = Fraction(0),
    window_ms: float | None = None,
) -> TimedGrid:
    """When the notes are due at `tempo_bpm` quarter notes a minute.

    Time 0 is `start` (quarters from the start of the music); `swing` is long:short; `window_ms` replaces the
    tolerance where player or teacher set one. Raises `TakeError` for a tempo or a swing out of range.
    """
    quarter_s = 60.0 / checked_tempo(tempo_bpm, float((tuple(spans) or COMMON_TIME)[0].meter.beat_length))
    here = _spans_at([note.onset for note in notes], spans)
    positions = tuple(
        note.onset - span.start if _swings(span.meter) else None for note, span in zip(notes, here, strict=True)
    )
    # Beats are told apart over the whole tune, not within their bar: hence the bar's own start is added
    # again.
    counted = tuple(
        None if position is None else span.start // 1 + position for position, span in zip(positions, here, strict=True)
    )
    off_beats = swung_off_beats(counted) if checked_swing(swing) != STRAIGHT else (False,) * len(notes)
    shift = off_beat_share(swing) - 0.5
    onsets_s = tuple(
        (float(note.onset - start) + (shift if off else 0.0)) * quarter_s
        for note, off in zip(notes, off_beats, strict=True)
    )
    beats_s = tuple(float(span.meter.beat_length) * quarter_s for span in here)
    widths_s = _widths_s(onsets_s, beats_s, window_ms)
    straight_s = shift * quarter_s
    widest_s = (off_beat_share(WIDEST_IN_TIME) - off_beat_share(swing)) * quarter_s
    return TimedGrid(
        onsets_s=onsets_s,
        early_s=tuple(max(w, straight_s) if off else w for w, off in zip(widths_s, off_beats, strict=True)),
        late_s=tuple(max(w, widest_s) if off else w for w, off in zip(widths_s, off_beats, strict=True)),
        beats_s=beats_s,
        beat_positions=counted,
        off_beats=off_beats,
    )


def _spans_at(onsets: Sequence[Fraction], spans: Sequence[BarSpan]) -> list[BarSpan]:
    """The bar that each onset stands in."""
    spans = tuple(spans) or COMMON_TIME
    starts = [span.start for span in spans]
    return [spans[max(0, bisect_right(starts, onset) - 1)] for onset in onsets]


def _swings(meter: Meter) -> bool:
    return meter.unit <= 4


def _widths_s(onsets_s: Sequence[float], beats_s: Sequence[float], window_ms: float | None) -> list[float]:
    if window_ms is not None:
        return [window_ms / 1000] * len(onsets_s)
    gaps_ms = [(after - onset) * 1000 for onset, after in pairwise(onsets_s)]
    return [
        tolerance_ms(beat_s * 1000, gap_ms) / 1000 for beat_s, gap_ms in zip(beats_s, [*gaps_ms, None], strict=False)
    ]
