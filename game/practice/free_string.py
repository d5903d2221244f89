"""Commands from the guitar alone: an open string that has no home on the map, plucked once, twice or three times.

A note outside the map is no answer to any written note, so nothing is hit by accident while reading; where the music
goes down to that string, it is free no longer. How often it was plucked is known when it has been left alone for a
moment.

A guitar that is heard by its sound tells of more than was plucked: of strings that ring along with others, of noises,
of a note twice. There only what was heard surely is a first pluck, and alone: with nothing else shortly before it,
and nothing else after it until it is known what was meant. Pure.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace

from game.instrument.decoding.played import PlayedNote
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

# Ours: quick enough to be one gesture, slow enough for a slow hand.
TOGETHER_S = 0.6
# A pitch that is struck again while it rings is heard late now and then, and softly.
HEARD_TOGETHER_S = 0.9
# So soon after another note it is that one's string, or the room, that rings; quarters at 120 are as far apart.
ALONE_S = 0.5
# No hand plucks a string again so soon: it is one pluck, told twice.
TWICE_TOLD_S = 0.12
_OTHERS = 4
# In semitones above a string: its second, third and fourth partials, the last that stand alone in what is heard.
_PARTIALS = (12, 19, 24)
MOST_PLUCKS = 3
# Twice ends a take in every stage.
STOP_PLUCKS = 2


@dataclass(frozen=True, slots=True)
class Plucks:
    """How often the free note was plucked just now, and when last; `heard` where it was by its sound."""

    count: int = 0
    last_s: float = float("-inf")
    heard: bool = False


class FreeString:
    """Listens for the free note on one screen. Feed it every note and the time. `written` are the sounding pitches of
    the music there: a string that they ask for is not free.
    """

    def __init__(self, written: Collection[int] = ()) -> None:
        self._written = written
        self._plucks = Plucks()
        # When the latest other notes began.
        self._others_s: list[float] = []
        self.meant_by_sound = False

    def is_free(self, played: PlayedNote, neck_map: NeckMap) -> bool:
        """Whether a note is the free one."""
        return is_free_string(played, neck_map, self._written)

    def hear_note(self, played: PlayedNote, neck_map: NeckMap) -> bool:
        """Whether the note was the free one, and so no answer to anything."""
        if not self.is_free(played, neck_map):
            if not self._rings_on(played, neck_map):
                self._hear_other(played)
            return False
        if not played.heard:
            self._plucks = plucked(self._plucks, played.started_s)
        elif (played.sure or self._goes_on(played)) and all(
            played.started_s - other_s >= ALONE_S for other_s in self._others_s
        ):
            self._plucks = plucked_by_sound(self._plucks, played.started_s)
        return True

    def _goes_on(self, played: PlayedNote) -> bool:
        """Whether a note follows a pluck that was heard surely: that what it is cannot be told then says little, for a
        string struck again while it rings is heard over itself.
        """
        return bool(
            self._plucks.heard and self._plucks.count and played.started_s - self._plucks.last_s <= HEARD_TOGETHER_S
        )

    def _rings_on(self, played: PlayedNote, neck_map: NeckMap) -> bool:
        """Whether a note is the plucked string itself, of which a partial outlasts the rest."""
        free = free_string_of(neck_map, self._written)
        if free is None or not (self._plucks.count and self._plucks.heard):
            return False
        return played.sounding - neck_map.tuning.sounding(free) in _PARTIALS

    def _hear_other(self, played: PlayedNote) -> None:
        """Another note: a pluck that was only heard about then was none, for the guitar is being played."""
        self._others_s = [*self._others_s[1 - _OTHERS :], played.started_s]
        if self._plucks.heard and played.started_s > self._plucks.last_s - ALONE_S:
            self._plucks = replace(self._plucks, count=0)

    def hear_pedal(self, at_s: float) -> None:
        """A pedal was pressed: it counts as a pluck."""
        self._plucks = plucked(self._plucks, at_s)

    def revise(self, before: PlayedNote, after: PlayedNote | None, neck_map: NeckMap) -> None:
        """A note turns out to be another, or none: a pluck that nobody made does not count, and what was heard wrongly
        at first, or not surely, may be one.
        """
        was, now = _counts(before, self, neck_map), after is not None and _counts(after, self, neck_map)
        if was and not now:
            self._plucks = replace(self._plucks, count=max(0, self._plucks.count - 1))
        if before.started_s in self._others_s:
            self._others_s.remove(before.started_s)
        if after is not None and after.heard and not (was and now):
            self.hear_note(after, neck_map)

    def command_by(self, now_s: float) -> int:
        """What was meant by now: 1, 2 or 3, each told once; 0 for nothing."""
        self.meant_by_sound = self._plucks.heard
        self._plucks, count = settled(self._plucks, now_s)
        return count


def _counts(played: PlayedNote, string: FreeString, neck_map: NeckMap) -> bool:
    return string.is_free(played, neck_map) and played.sure


def free_string_of(neck_map: NeckMap, written: Collection[int] = ()) -> Place | None:
    """The string that is free for commands where these pitches are asked for; None for none."""
    free = neck_map.free_string
    return None if free is None or neck_map.tuning.sounding(free) in written else free


def is_free_string(played: PlayedNote, neck_map: NeckMap, written: Collection[int] = ()) -> bool:
    """Whether a note is the free one: at its place, or by its pitch where places are not reported."""
    free = free_string_of(neck_map, written)
    if free is None:
        return False
    if played.place is None:
        return played.sounding == neck_map.tuning.sounding(free)
    return played.place == free


def plucked(plucks: Plucks, at_s: float) -> Plucks:
    """One pluck more."""
    together = at_s - plucks.last_s <= TOGETHER_S
    return Plucks(min(plucks.count + 1, MOST_PLUCKS) if together else 1, at_s)


def plucked_by_sound(plucks: Plucks, at_s: float) -> Plucks:
    """One pluck more, that was heard; the same one told again is none."""
    since_s = at_s - plucks.last_s
    if plucks.count and since_s < TWICE_TOLD_S:
        return plucks
    together = plucks.count and since_s <= HEARD_TOGETHER_S
    return Plucks(min(plucks.count + 1, MOST_PLUCKS) if together else 1, at_s, heard=True)


def settled(plucks: Plucks, now_s: float) -> tuple[Plucks, int]:
    """What was meant, once the string has been left alone: 1, 2 or 3, and 0 while that is not known."""
    together_s = HEARD_TOGETHER_S if plucks.heard else TOGETHER_S
    if plucks.count and now_s - plucks.last_s > together_s:
        return replace(plucks, count=0), plucks.count
    return plucks, 0
