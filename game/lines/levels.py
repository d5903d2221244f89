"""The levels of fresh lines, named by what they hold. The figures are ours, from teachers' practice."""

from dataclasses import dataclass
from enum import Enum

from game.errors import TuneError
from game.message import Message, message


class LineMethod(Enum):
    """How a line is made: as a song along the scale, or as a solo over changes."""

    SCALE = "scale"
    CHANGES = "changes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level of pitches.

    `span` is how many neighbouring notes of the key one line ranges over (None: the whole map), `leap` the largest
    interval of a song in scale steps. `chromatic` is the share of places in a song where a chromatic note may resolve
    by step. `rhythm` is the number of the rhythm level that usually goes with it. How a level is written stands in
    `game.lines.manners`.
    """

    number: int
    name: str
    method: LineMethod
    rhythm: int
    span: int | None
    leap: int = 2
    chromatic: float = 0.0

    @property
    def told(self) -> Message:
        """What people call it."""
        return message(f"level.{self.number}")


LEVELS = (
    Level(number=1, name="five notes", method=LineMethod.SCALE, rhythm=1, span=5),
    Level(number=2, name="thirds in an octave", method=LineMethod.SCALE, rhythm=2, span=8),
    Level(number=3, name="thirds over the whole map", method=LineMethod.SCALE, rhythm=3, span=9),
    Level(number=4, name="leaps answered by steps", method=LineMethod.SCALE, rhythm=3, span=10, leap=7),
    Level(
        number=5, name="accidentals that resolve", method=LineMethod.SCALE, rhythm=4, span=10, leap=7, chromatic=0.65
    ),
    Level(number=6, name="over changes", method=LineMethod.CHANGES, rhythm=4, span=12),
    Level(number=7, name="approach notes and enclosures", method=LineMethod.CHANGES, rhythm=5, span=14),
    Level(number=8, name="as dense as a solo", method=LineMethod.CHANGES, rhythm=6, span=None),
)


def level_of(number: int) -> Level:
    """The level of a number. Raises `TuneError` for another than 1 to 8."""
    if not 1 <= number <= len(LEVELS):
        raise TuneError(
            "lines.unknown_level", number=number, first=LEVELS[0].told, highest=len(LEVELS), last=LEVELS[-1].told
        )
    return LEVELS[number - 1]
