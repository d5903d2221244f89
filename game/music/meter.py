"""Metres: how long a bar is, where its beats fall, and what counts as one beat."""

from dataclasses import dataclass
from fractions import Fraction

MAX_BEATS = 64
UNITS = (1, 2, 4, 8, 16, 32, 64)


@dataclass(frozen=True, slots=True)
class Meter:
    """A time signature: `beats` over `unit`, as printed."""

    beats: int = 4
    unit: int = 4

    def __post_init__(self) -> None:
        if not 1 <= self.beats <= MAX_BEATS or self.unit not in UNITS:
            raise ValueError(f"no such metre: {self.beats}/{self.unit}")

    @property
    def bar_length(self) -> Fraction:
        """Length of a full bar in quarter notes."""
        return Fraction(4 * self.beats, self.unit)

    @property
    def compound(self) -> bool:
        """Whether three printed beats make one felt beat: 6/8, 9/8, 12/8 (not 3/8, one slow beat or three)."""
        return self.unit >= 8 and self.beats > 3 and self.beats % 3 == 0

    @property
    def beat_length(self) -> Fraction:
        """Length of the felt beat in quarter notes: 1 in 4/4, 3/2 in 6/8, 2 in 2/2."""
        return Fraction(4, self.unit) * (3 if self.compound else 1)

    @property
    def text(self) -> str:
        """As in "4/4"."""
        return f"{self.beats}/{self.unit}"
