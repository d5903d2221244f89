"""The player's own clock: how far behind the click it stands, and how fast that changes (Kalman 1960).

A note that comes far off its time tells less about the clock, as in Student's distribution.
"""

from typing import NamedTuple

from game.judging.following.follow_numbers import (
    LEAN_NOISE_S2,
    LEAN_START_S2,
    RATE_NOISE,
    RATE_START,
    VARIANCE_S2,
)


class PlayerClock(NamedTuple):
    """`lean_s` behind the click (negative ahead), `rate` seconds of lean gained a second of music, and the entries of
    their covariance. A tuple, for many are made.
    """

    lean_s: float
    rate: float
    lean_variance: float
    covariance: float
    rate_variance: float

    def moved(self, d: float) -> "PlayerClock":
        """The clock `d` seconds of music later."""
        lean_s, rate, a, b, c = self
        grown = a + d * (2 * b + d * c + LEAN_NOISE_S2 + RATE_NOISE * d * d / 3)
        return PlayerClock(lean_s + rate * d, rate, grown, b + d * (c + RATE_NOISE * d / 2), c + RATE_NOISE * d)

    def variance_after(self, d: float) -> float:
        """The variance of the lean `d` seconds of music later."""
        return self.lean_variance + d * (
            2 * self.covariance + d * self.rate_variance + LEAN_NOISE_S2 + RATE_NOISE * d * d / 3
        )

    def surprise(self, off_s: float) -> float:
        """How many squared deviations off this clock a note is that lies `off_s` behind the click."""
        surprise_s = off_s - self.lean_s
        return surprise_s * surprise_s / (self.lean_variance + VARIANCE_S2)

    def corrected(self, off_s: float, noise: float = 1.0) -> "PlayerClock":
        """The clock after a note `off_s` behind the click; `noise` above 1 where the note tells less."""
        lean_s, rate, a, b, c = self
        surprise_s, s = off_s - lean_s, a + VARIANCE_S2
        s = a + VARIANCE_S2 * noise * (2 + surprise_s * surprise_s / s) / 3
        lean_gain, rate_gain = a / s, b / s
        return PlayerClock(
            lean_s + lean_gain * surprise_s,
            rate + rate_gain * surprise_s,
            a - lean_gain * a,
            b - lean_gain * b,
            c - rate_gain * b,
        )


AT_THE_START = PlayerClock(0.0, 0.0, LEAN_START_S2, 0.0, RATE_START)


def clock_at(lean_s: float, rate: float, rate_variance: float) -> PlayerClock:
    """A clock set by one note that landed."""
    return PlayerClock(lean_s, rate, VARIANCE_S2, 0.0, rate_variance)
