"""Metres."""

from fractions import Fraction

import pytest

from game.music.meter import Meter


@pytest.mark.parametrize(
    ("beats", "unit", "bar_length", "beat_length"),
    [
        (4, 4, 4, 1),
        (3, 4, 3, 1),
        (2, 2, 4, 2),
        (6, 8, 3, Fraction(3, 2)),
        (9, 8, Fraction(9, 2), Fraction(3, 2)),
        (12, 8, 6, Fraction(3, 2)),
        (5, 8, Fraction(5, 2), Fraction(1, 2)),
        (3, 8, Fraction(3, 2), Fraction(1, 2)),
    ],
)
def test_bars_and_beats_are_as_long_as_theory_says(beats, unit, bar_length, beat_length):
    """Compound metres count in dotted beats (trade)."""
    meter = Meter(beats, unit)
    assert (meter.bar_length, meter.beat_length) == (bar_length, beat_length)


@pytest.mark.parametrize(("beats", "unit"), [(0, 4), (4, 3), (4, 0), (-3, 4), (65, 4)])
def test_a_metre_that_cannot_be_is_refused(beats, unit):
    with pytest.raises(ValueError, match="no such metre"):
        Meter(beats, unit)
