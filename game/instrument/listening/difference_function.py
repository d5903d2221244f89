"""Which period a stretch of sound repeats with: McLeod's normalised square difference.

P. McLeod, G. Wyvill, "A smarter way to find pitch", ICMC 2005: n(lag) = 2 r(lag) / m(lag) is 1 where the sound repeats
exactly after the lag, and the first peak near the highest one is the period. Power plays no part in it.
"""

from dataclasses import dataclass

import numpy as np

from game.instrument.listening.range_heard import HIGHEST_PITCH, LOWEST_PITCH
from game.instrument.listening.sample_history import Samples
from game.instrument.listening.semitones import period_of, pitch_of

_FIRST_PEAK = 0.90
"""The first peak of this share of the highest is the period: McLeod's k, 0.8 to 1; 0.90 measured best."""
_SHARE_OF_WINDOW = 0.62
"""Longer lags would compare too little of the window with itself."""
_ABOVE = 8
"""Semitones over the highest pitch that are seen, lest their octaves be taken for them."""
_NEAR = 0.6
"""Semitones within which a pitch still is one."""
_LEAST_PEAK = 0.3
_FFT_STEP = 128
"""Transforms are as long as a multiple of it: those are quick."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A pitch, and how periodic the sound is with it, 0 to 1; both 0 where there is none."""

    pitch: float
    clarity: float

    @property
    def is_in_range(self) -> bool:
        """Whether it is a pitch, and a guitar has notes so high. Lower ones than are looked for are not found."""
        return 0 < self.pitch < HIGHEST_PITCH


NO_PITCH = Estimate(0.0, 0.0)


def estimate_of(window: Samples, rate: float, lowest: float = LOWEST_PITCH) -> Estimate:
    """The pitch of a window of samples, two periods long at least; `lowest` is the first that is looked for."""
    peaks = peaks_of(window, rate, lowest)
    highest = max((peak.clarity for peak in peaks), default=0.0)
    return next((peak for peak in peaks if peak.clarity >= _FIRST_PEAK * highest), NO_PITCH)


def peaks_of(window: Samples, rate: float, lowest: float = LOWEST_PITCH) -> tuple[Estimate, ...]:
    """All periods the window may have, the shortest first, down to the pitch `lowest`."""
    longest = min(int(period_of(lowest, rate)) + 3, int(len(window) * _SHARE_OF_WINDOW))
    if longest < 3:
        return ()
    difference = square_difference(window, longest)
    middle = difference[1:-1]
    is_peak = (middle > difference[:-2]) & (middle >= difference[2:]) & (middle > _LEAST_PEAK)
    at = np.flatnonzero(is_peak) + 1
    dips = np.flatnonzero(difference < 0)
    shortest = period_of(HIGHEST_PITCH + _ABOVE, rate) - 1
    at = at[(at >= shortest) & (at > (dips[0] if len(dips) else longest))]
    before, top, after = difference[at - 1], difference[at], difference[at + 1]
    aside = 0.5 * (before - after) / (before - 2 * top + after - 1e-12)  # the top of the parabola through the three
    height = np.minimum(top - 0.25 * (before - after) * aside, 1.0)
    return tuple(
        Estimate(pitch_of(lag, rate), high) for lag, high in zip((at + aside).tolist(), height.tolist(), strict=True)
    )


def square_difference(window: Samples, lags: int) -> Samples:
    """McLeod's n for lags from 0 to before `lags`: 1 is the same again, 0 unlike, -1 upside down."""
    count = len(window)
    size = -(-(count + lags) // _FFT_STEP) * _FFT_STEP
    spectrum = np.fft.rfft(window, size)
    correlation = np.fft.irfft(spectrum.real**2 + spectrum.imag**2, size)[:lags]
    energy = np.concatenate((np.zeros(1), np.cumsum(window * window)))
    at = np.arange(lags)
    both = energy[count - at] + energy[count] - energy[at]
    result: Samples = 2 * correlation / (both + 1e-12)
    return result


def periodic_power(window: Samples, period: float) -> float:
    """The power of what repeats after `period` samples: deaf to clicks and noise. 0 where the window is too short."""
    lag = round(period)
    count = len(window) - lag
    if count <= lag // 2:
        return 0.0
    return max(float(window[:count] @ window[lag:]) / count, 0.0)


def estimate_near(peaks: tuple[Estimate, ...], pitch: float) -> Estimate:
    """The pitch of a sound that most likely still is `pitch`: its own period where that is nearly as clear as any, for
    a string that fades may be left with its octave alone; else the first high peak.
    """
    highest = max((peak.clarity for peak in peaks), default=0.0)
    high = [peak for peak in peaks if peak.clarity >= _FIRST_PEAK * highest]
    near = [peak for peak in high if abs(peak.pitch - pitch) < _NEAR]
    return max(near, key=lambda peak: peak.clarity) if near else next(iter(high), NO_PITCH)
