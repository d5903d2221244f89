"""The levels of fresh lines, named by what they hold. The figures are ours, from teachers' practice."""

from dataclasses import dataclass
from enum import Enum

from game.errors import TuneError


class Making(Enum):
    """How a line is made: along the scale, or from chord tone to chord tone over changes."""

    SCALE = "scale"
    CHANGES = "changes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level. `span` is how many scale steps the line may range over (None: the whole map), `leap` the largest
    interval in scale steps. `chromatic` is the share of places where an accidental may resolve by step. `eighths` and
    `rests` are shares of beats divided and left out, `triplets` of half bars.
    """

    number: int
    name: str
    making: Making
    span: int | None = None
    leap: int = 1
    chromatic: float = 0.0
    eighths: float = 0.0
    rests: float = 0.0
    triplets: float = 0.0


LEVELS = (
    Level(number=1, name="five notes", making=Making.SCALE, span=5),
    Level(number=2, name="thirds in an octave", making=Making.SCALE, span=8, leap=2, eighths=0.1),
    Level(number=3, name="thirds over the whole map", making=Making.SCALE, leap=2, eighths=0.25),
    Level(number=4, name="leaps answered by steps", making=Making.SCALE, leap=5, eighths=0.35),
    Level(number=5, name="accidentals that resolve", making=Making.SCALE, leap=4, eighths=0.45, chromatic=0.3),
    Level(number=6, name="over changes", making=Making.CHANGES, chromatic=0.35),
    Level(number=7, name="approach notes and enclosures", making=Making.CHANGES, chromatic=0.75),
    Level(number=8, name="as dense as a solo", making=Making.CHANGES, chromatic=0.95, rests=0.15, triplets=0.35),
)


def level_of(number: int) -> Level:
    """The level of a number. Raises `TuneError` for another than 1 to 8."""
    if not 1 <= number <= len(LEVELS):
        raise TuneError(f"there is no level {number}: choose 1 ({LEVELS[0].name}) to {len(LEVELS)} ({LEVELS[-1].name})")
    return LEVELS[number - 1]
