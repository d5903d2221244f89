"""What a movement of the fretting hand costs: one table, and the cost of a note and of a step between two notes.

The figures of the table are ours. Fingering has been treated as a path of least cost before: Sayegh, "Fingering for
string instruments with the optimum path paradigm" (Computer Music Journal, 1989); Radicioni and Lombardo on fingering
as a problem of constraints (2004 on); Heijink and Meulenbroek measured the left hand of guitarists and found what lies
near the hand's own place preferred (2002). All are cited from memory (mem), and none of them gives these figures.
`DEVELOPERS.md` has the formula.
"""

from dataclasses import dataclass
from typing import Final

from game.neck.hand import USUAL_HAND, FrettingHand
from game.neck.tuning import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class MovementCosts:
    """The table. The unit is four strings' worth of crossing: about what one stretch is.

    All figures are multiples of a quarter, so that sums of them are exact and two ways that cost the same are equal.
    """

    off_map: float = 12.0  # a note without a home is a decision each time; more than any shift there and back
    outlying: float = 1.0  # a home outside the position is an exception to remember, beside its shift
    reaching_back: float = 1.0  # a fret reached by the first finger below the position
    reaching_on: float = 1.25  # by the fourth above it: the weaker finger, so reaching back comes first (trade)
    next_string: float = 0.25  # to a neighbouring string: both hands change, but nothing is lost from under the fingers
    string_passed: float = 0.5  # each further string, passed over by eye or feel
    slide: float = 0.5  # the same finger to another fret of its string: it keeps contact
    roll: float = 0.5  # the same finger at one fret to a neighbouring string: it is laid over, or rolled
    jump: float = 1.0  # the same finger anywhere else: it lets go of one note to reach the next
    shift: float = 2.0  # the hand leaves its position: as bad as two stretches, for the eyes leave the page
    shift_over_open: float = 1.0  # while an open string sounds there is time for it (trade)
    shifted_fret: float = 0.25  # and each fret it goes


COSTS: Final = MovementCosts()


@dataclass(frozen=True, slots=True)
class Fingered:
    """A place, the position the hand is in, and the finger: 1 to the hand's span, 0 for an open string. Make it with
    `fingered`.
    """

    place: Place
    position: int
    finger: int

    @property
    def stretch(self) -> int:
        """How many frets the finger reaches beyond its own, negative for back."""
        return self.place.fret - self.position - self.finger + 1 if self.finger else 0


def fingered(place: Place, position: int, hand: FrettingHand = USUAL_HAND) -> Fingered:
    """A place taken from a position: a fret each finger, the outer ones reaching beyond."""
    if place.fret == 0:
        return Fingered(place, position, 0)
    return Fingered(place, position, min(max(place.fret - position, 0), hand.span - 1) + 1)


def note_cost(one: Fingered, costs: MovementCosts = COSTS) -> float:
    """What a note costs by itself: its stretch, for each fret."""
    reach = one.stretch
    return reach * costs.reaching_on if reach >= 0 else -reach * costs.reaching_back


def step_cost(before: Fingered, after: Fingered, costs: MovementCosts = COSTS) -> float:
    """What it costs to go from one note to the next, either way the same; nothing for the same place once more.

    Strings crossed and passed over; a shift of the hand, or where it stays the same finger put elsewhere.
    """
    strings = abs(before.place.string - after.place.string)
    cost = costs.next_string + (strings - 1) * costs.string_passed if strings else 0.0
    frets = abs(before.position - after.position)
    if frets:
        start = costs.shift if before.finger and after.finger else costs.shift_over_open
        return cost + start + frets * costs.shifted_fret
    if before.finger != after.finger or not before.finger or before.place == after.place:
        return cost
    if not strings:
        return cost + costs.slide
    return cost + (costs.roll if strings == 1 and before.place.fret == after.place.fret else costs.jump)


def is_jump(before: Fingered, after: Fingered) -> bool:
    """Whether the same finger takes both notes at different places, the hand staying where it is."""
    return before.finger == after.finger > 0 and before.position == after.position and before.place != after.place
