"""The bias of a player: where their notes lie relative to the click, before anything has been aligned.

It is used to find which played note answers which written one. It is never taken out of an offset.
"""

from bisect import bisect_left
from collections.abc import Sequence
from statistics import median

from game.judging.alignment_timed import TimedRows

_BIN_S = 0.020
_SAMPLE = 300
_LEAST_SHARE = 0.35
"""Of the notes looked at; a bias that fits fewer is chance."""

_FARNESS_WEIGHT = 0.3
"""By how much of its height a peak at the limit is lowered, so that of two alike the nearer one wins."""


def estimated_bias_s(rows: TimedRows, *, limit_s: float) -> float:
    """The offset at which most played notes meet a written note of their pitch, in seconds, 0 when none
    stands out.

    Looks within `limit_s` either side, at no more than 300 notes spread over the take.
    """
    offsets_s = _offsets_s(rows, limit_s)
    looked_at = min(len(rows.due_s), _SAMPLE)
    peak_s = _peak_s(offsets_s, limit_s, least=_LEAST_SHARE * looked_at)
    if peak_s is None:
        return 0.0
    return median(offset_s for offset_s in offsets_s if abs(offset_s - peak_s) <= 3 * _BIN_S)


def _offsets_s(rows: TimedRows, limit_s: float) -> list[float]:
    """Offsets of every played note of the right pitch within the limit of a written one."""
    stride = max(1, len(rows.due_s) // _SAMPLE)
    offsets_s = []
    for index in range(0, len(rows.due_s), stride):
        due_s, pitch = rows.due_s[index], rows.asked[index]
        at = bisect_left(rows.times_s, due_s - limit_s)
        while at < len(rows.times_s) and rows.times_s[at] <= due_s + limit_s:
            if rows.sounding[at] == pitch:
                offsets_s.append(rows.times_s[at] - due_s)
            at += 1
    return offsets_s


def _peak_s(offsets_s: Sequence[float], limit_s: float, *, least: float) -> float | None:
    """The middle of the best-filled stretch of 100 ms; None when it holds fewer than `least`."""
    half = int(limit_s / _BIN_S) + 3
    bins = [0] * (2 * half + 1)
    for offset_s in offsets_s:
        bins[half + round(offset_s / _BIN_S)] += 1
    sums = [sum(bins[middle - 2 : middle + 3]) for middle in range(2, 2 * half - 1)]
    best = max(range(len(sums)), key=lambda at: sums[at] * (1 - _FARNESS_WEIGHT * abs(at + 2 - half) / half))
    return (best + 2 - half) * _BIN_S if sums[best] >= max(least, 2) else None
