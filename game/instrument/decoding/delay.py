"""How late an instrument tells of a note. Pure.

A pickup has to hear about two periods of a string before it knows its pitch, so the delay depends on the
note: a + k periods. Fonseca & Tavares 2020: E2 24.3 ms, A2 18.2, D3 13.6, G3 10.2, B3 8.1, E4 6.1.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

# What a pickup needs at least (pub, see above); what nobody has to calibrate.
USUAL_PERIODS = 2.0
# Beyond this it is no pickup that is slow, but something else that was measured.
MOST_PERIODS, MOST_CONSTANT_S = 8.0, 0.25
# ISO 16: A4, MIDI number 69, is 440 Hz.
_A4_HZ, _A4 = 440.0, 69


@lru_cache(maxsize=256)
def period_s(sounding: int) -> float:
    """One period of a MIDI number's pitch in seconds, in equal temperament from A4 = 440 Hz (ISO 16)."""
    return 1.0 / (_A4_HZ * math.exp2((sounding - _A4) / 12))


@dataclass(frozen=True, slots=True)
class Delay:
    """`constant_s` for every note, and so many `periods` of its pitch."""

    constant_s: float = 0.0
    periods: float = USUAL_PERIODS

    def of(self, sounding: int) -> float:
        """Seconds between the pluck of a MIDI number and its message."""
        return self.constant_s + self.periods * period_s(sounding)


NO_DELAY = Delay(periods=0.0)
"""A keyboard's key tells of itself at once: a message of three bytes takes 0.96 ms (MIDI 1.0)."""
