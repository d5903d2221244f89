"""What still rings of the note before, taken out of what is heard after a pluck.

A ringing string repeats itself: its own past, shifted by whole periods, is what it sounds like now. As much of that as
fits (least squares) is subtracted.
"""

from math import ceil

import numpy as np

from game.instrument.listening.sample_history import SampleHistory, Samples

_GUARD_S = 0.003
"""So long before the pluck the old note is certainly alone."""
_TRIED = 5
"""Samples about whole periods that are tried for the best fit."""
_TEST_S = 0.0204
_SILENT = 1e-9


def without_old_note(
    history: SampleHistory, window: Samples, *, pluck: int, old: tuple[int, float], rate: float
) -> Samples:
    """The `window`, the newest samples of the history, without what rings of the old note.

    `pluck` is the sample the new note began at; `old` the one the old note began at, and its period in samples. The
    window itself is given back where too little of the old note is known.
    """
    count = len(window)
    old_began, period = old
    alone_until = pluck - int(_GUARD_S * rate)
    shift = _best_shift(history, history.end - alone_until, alone_until, min(count, int(_TEST_S * rate)), period)
    start = history.end - count
    past = history.between(start - shift, start - shift + count)
    if len(past) < count or start - shift < old_began:
        return window
    power = float(past @ past)
    if power < _SILENT:
        return window
    gain = min(max(float(window @ past) / power, 0.0), 1.0)
    return window - gain * past


def combed(history: SampleHistory, count: int, period: float) -> Samples:
    """The newest `count` samples without whatever repeats with a period, however loud it is and whether it is being
    damped: the difference to one period before. Of another note it leaves the period, if not all partials.
    """
    whole = int(period)
    part = period - whole
    before = history.between(history.end - count - whole - 1, history.end - whole)
    if len(before) < count + 1:
        return history.last(count)
    shifted: Samples = history.last(count) - (1 - part) * before[1:] - part * before[:-1]
    return shifted


def _best_shift(history: SampleHistory, least: int, end: int, count: int, period: float) -> int:
    """Whole periods, `least` samples or more, after which the old note is most like itself before sample `end`."""
    middle = round(ceil(least / period) * period)
    now = history.between(end - count, end)
    past = history.between(end - count - middle - _TRIED, end - middle + _TRIED)
    if len(past) < len(now) + 2 * _TRIED:
        return history.end  # out of what is held
    shift = middle + _TRIED - int(np.argmax(np.correlate(past, now, "valid")))
    return shift if shift >= least else shift + round(period)
