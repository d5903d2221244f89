"""Pitches as MIDI numbers with their fraction, and the periods they repeat with. Pure.

Equal temperament about 440 Hz, MIDI number 69 (ISO 16).
"""

from math import exp2, log2

SAME_PITCH = 0.6
"""Semitones within which what is heard is the same pitch."""

_A_HZ = 440.0
_A_PITCH = 69


def hertz(pitch: float) -> float:
    """The frequency of a pitch."""
    return _A_HZ * exp2((pitch - _A_PITCH) / 12)


def period_of(pitch: float, rate: float) -> float:
    """Samples, at `rate` of them a second, after which a pitch repeats."""
    return rate / hertz(pitch)


def pitch_of(period: float, rate: float) -> float:
    """The pitch that repeats after `period` samples; the opposite of `period_of`."""
    return _A_PITCH + 12 * log2(rate / period / _A_HZ)
