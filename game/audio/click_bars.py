"""The bars under the clicks: where the beats of each are counted from, what is counted in before, and what leads back.

Score time is in quarter notes from onset 0, where the passage begins. Pure.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from game.errors import TakeError
from game.music.meter import Meter
from game.music.score import Bar

MOST_COUNT_IN_BARS = 8
_FEW_BEATS = 3


@dataclass(frozen=True, slots=True)
class ClickBar:
    """What the clicks need of a bar: it is heard from `start` to `stop`, its first beat falls on `first_beat`."""

    meter: Meter
    first_beat: Fraction
    start: Fraction
    stop: Fraction


def placed_bars(bars: Sequence[Bar]) -> list[ClickBar]:
    """The bars with their first beats: a pickup bar's, and that of the second half of a split bar, lie before it."""
    placed: list[ClickBar] = []
    start = Fraction(0)
    for bar in bars:
        stop = start + bar.length
        first_beat = stop - bar.meter.bar_length if bar.pickup else start
        before = placed[-1] if placed else None
        if before is not None and not bar.pickup and _completes(before, bar):
            first_beat = before.first_beat
        placed.append(ClickBar(meter=bar.meter, first_beat=first_beat, start=start, stop=stop))
        start = stop
    return placed


def _completes(before: ClickBar, bar: Bar) -> bool:
    """Whether `bar` is what was missing of a short bar just before it, as at a repeat sign inside a bar."""
    whole = before.first_beat == before.start and before.meter == bar.meter
    return whole and before.stop - before.start + bar.length == bar.meter.bar_length


def count_in_bars(first: ClickBar, bars: int | None) -> list[ClickBar]:
    """Whole bars, then the beats of a pickup bar that come before its first note, so that it enters in its place."""
    if bars is None:
        bars = 1 if first.meter.bar_length / first.meter.beat_length >= _FEW_BEATS else 2
    if not 0 <= bars <= MOST_COUNT_IN_BARS:
        raise TakeError("audio.count_in_out_of_range", bars=bars, most=MOST_COUNT_IN_BARS)
    if bars == 0:
        return []
    length = first.meter.bar_length
    starts = [first.first_beat - length * back for back in range(bars, 0, -1)]
    counting = [ClickBar(meter=first.meter, first_beat=at, start=at, stop=at + length) for at in starts]
    if first.first_beat < first.start:
        counting.append(replace(first, start=first.first_beat, stop=first.start))
    return counting


def bars_back(first: ClickBar, last: ClickBar) -> list[ClickBar]:
    """What is missing between the end of a looped passage and its beginning, for that to come at its right beat."""
    whole = last.meter.bar_length
    reached = (last.stop - last.first_beat) % whole
    entering = first.start - first.first_beat
    begun = last.stop - reached
    if first.meter == last.meter and reached <= entering:
        back = [replace(last, first_beat=begun, start=last.stop, stop=begun + entering)]
    else:
        line = begun + whole if reached else begun
        back = [
            replace(last, first_beat=begun, start=last.stop, stop=line),
            replace(first, first_beat=line, start=line, stop=line + entering),
        ]
    return [bar for bar in back if bar.start < bar.stop]
