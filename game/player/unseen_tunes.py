"""The tunes of the shelf that were never played or heard, as the plan looks at them."""

from bisect import bisect_right
from collections.abc import Container

from game.coach.plan.plan_steps import UnseenTune
from game.neck.neck_map import NeckMap, Reach
from game.tunes.library.library import ShelfEntry

# The usual difficulty of fresh lines by level, 1 to 8 (medians of 45 lines each, `game.music.difficulty`): by it tunes
# and lines are compared.
_DIFFICULTY_OF_LEVEL = (1.1, 1.65, 1.85, 2.0, 2.4, 2.7, 3.35, 3.8)


def unseen_tune(entry: ShelfEntry, neck_map: NeckMap, met: Container[int]) -> UnseenTune:
    """A tune on a map of whose pitches those in `met` were met."""
    reach = {home.sounding: home.reach for home in neck_map.homes}
    pitches = {sounding for sounding, _ in entry.sounding(neck_map.reading) if sounding not in met}
    return UnseenTune(
        name=entry.name,
        title=entry.title,
        difficulty=comparable_level(entry.difficulty),
        own=not entry.shipped,
        unmet=len(pitches & reach.keys()),
        stretches=sum(reach.get(sounding) is not Reach.IN_POSITION for sounding in pitches),
    )


def comparable_level(difficulty: float) -> float:
    """The level of fresh lines that is about as difficult, 1 to 8 and a little beyond."""
    table = _DIFFICULTY_OF_LEVEL
    at = min(max(bisect_right(table, difficulty), 1), len(table) - 1)
    low, high = table[at - 1], table[at]
    return max(0.5, min(9.0, at + (difficulty - low) / (high - low)))
