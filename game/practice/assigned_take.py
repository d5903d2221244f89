"""What a teacher set, as far as it holds for a take: nothing of it is the player's own, and it ends with the take."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class AssignedTake:
    """A take out of an assignment, by its id, of the part of a number, from 0. `target_bpm` is the tempo that was set,
    in the metre's own beat, None where the player's own target holds.
    """

    assignment: str
    part: int
    target_bpm: int | None = None
