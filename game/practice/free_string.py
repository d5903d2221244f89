"""Commands from the guitar alone: an open string that has no home on the map, plucked once, twice or three times.

A note outside the map is no answer to any written note, so nothing is hit by accident while reading. How often it was
plucked is known when it has been left alone for a moment. Pure.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.played import PlayedNote
from game.neck.neck_map import NeckMap

# Ours: quick enough to be one gesture, slow enough for a slow hand.
TOGETHER_S = 0.6
MOST_PLUCKS = 3
# Twice ends a take in every stage.
STOP_PLUCKS = 2


@dataclass(frozen=True, slots=True)
class Plucks:
    """How often the free note was plucked just now, and when last."""

    count: int = 0
    last_s: float = float("-inf")


class FreeString:
    """Listens for the free note on one screen. Feed it every note and the time."""

    def __init__(self) -> None:
        self._plucks = Plucks()

    def hear_note(self, played: PlayedNote, neck_map: NeckMap) -> bool:
        """Whether the note was the free one, and so no answer to anything."""
        if not is_free_string(played, neck_map):
            return False
        self._plucks = plucked(self._plucks, played.started_s)
        return True

    def hear_pedal(self, at_s: float) -> None:
        """A pedal was pressed: it counts as a pluck."""
        self._plucks = plucked(self._plucks, at_s)

    def revise(self, before: PlayedNote, after: PlayedNote | None, neck_map: NeckMap) -> None:
        """A note turns out to be another, or none: a pluck that nobody made does not count."""
        if is_free_string(before, neck_map) and not (after and is_free_string(after, neck_map)):
            self._plucks = replace(self._plucks, count=max(0, self._plucks.count - 1))

    def command_by(self, now_s: float) -> int:
        """What was meant by now: 1, 2 or 3, each told once; 0 for nothing."""
        self._plucks, count = settled(self._plucks, now_s)
        return count


def is_free_string(played: PlayedNote, neck_map: NeckMap) -> bool:
    """Whether a note is the free one: at its place, or by its pitch where places are not reported."""
    free = neck_map.free_string
    if free is None:
        return False
    if played.place is None:
        return played.sounding == neck_map.tuning.sounding(free)
    return played.place == free


def plucked(plucks: Plucks, at_s: float) -> Plucks:
    """One pluck more."""
    together = at_s - plucks.last_s <= TOGETHER_S
    return Plucks(min(plucks.count + 1, MOST_PLUCKS) if together else 1, at_s)


def settled(plucks: Plucks, now_s: float) -> tuple[Plucks, int]:
    """What was meant, once the string has been left alone: 1, 2 or 3, and 0 while that is not known."""
    if plucks.count and now_s - plucks.last_s > TOGETHER_S:
        return replace(plucks, count=0), plucks.count
    return plucks, 0
