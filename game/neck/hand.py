"""The hand on the neck: how many frets lie under its fingers, how far it reaches beyond them, and open strings.

One finger a fret is the usual way of a position (trade). Small or sore hands do without the stretches; nobody should
stretch where it hurts.
"""

from dataclasses import dataclass
from typing import Final

from game.message import Message, message

WIDEST_SPAN: Final = 6
FURTHEST_REACH: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class FrettingHand:
    """What a hand takes from a position P without moving.

    `span` frets from P on lie under the fingers (1 to 6); the first finger reaches `back` frets below P, the fourth
    `on` frets above its own (0 to 2 each). With `open_strings` the open strings are homes in every position, after what
    lies under the fingers; in position I they are in any case, and come first.
    """

    span: int = 4
    back: int = 1
    on: int = 1
    open_strings: bool = False

    def lowest_fret(self, position: int) -> int:
        """The lowest fret reached, 0 at least, open strings left aside."""
        return max(0, position - self.back)

    def highest_fret(self, position: int) -> int:
        """The highest fret reached on an endless neck."""
        return position + self.span - 1 + self.on

    def under_fingers(self, position: int) -> range:
        """The frets under the fingers."""
        return range(position, position + self.span)

    def shifted_to(self, fret: int, position: int) -> int:
        """The position nearest to `position` in which a fret lies under the fingers; an open string moves nothing."""
        if fret == 0:
            return position
        return max(1, min(max(position, fret - self.span + 1), fret))

    @property
    def faults(self) -> tuple[Message, ...]:
        """What is out of range: such a hand reaches nothing, or more than any hand."""
        found = []
        if not 1 <= self.span <= WIDEST_SPAN:
            found.append(message("map.hand_span", given=self.span, most=WIDEST_SPAN))
        found += [
            message("map.hand_reach", given=reach, most=FURTHEST_REACH)
            for reach in (self.back, self.on)
            if not 0 <= reach <= FURTHEST_REACH
        ]
        return tuple(found)


USUAL_HAND: Final = FrettingHand()
UNSTRETCHED: Final = FrettingHand(back=0, on=0)
