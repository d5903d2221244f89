"""The tunes of the shelf that were never played or heard, as the plan looks at them."""

from bisect import bisect_right
from collections.abc import Container, Mapping

from game.coach.plan.plan_steps import UnseenTune
from game.neck.neck_map import NeckMap, Reach
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.tune_readiness import tune_readiness

DIFFICULTY_OF_LEVEL = (1.2, 1.65, 1.8, 1.95, 2.35, 2.95, 3.55, 4.0)
"""The usual difficulty of fresh lines by level, 1 to 8: by it tunes and lines are compared. Medians of 90 lines of
eight bars each in the keys of their level, the hand included, on the map everybody begins with, as
`python -m tests.bench.book_evenings` measures them.
"""


def unseen_tune(
    entry: ShelfEntry, neck_map: NeckMap, met: Container[int], costs: Mapping[int, float] | None = None
) -> UnseenTune:
    """A tune on a map of whose pitches those in `met` were met. `costs` is `pitch_costs(neck_map)`, for many tunes."""
    reach = {home.sounding: home.reach for home in neck_map.homes}
    pitches = {sounding for sounding, _ in entry.sounding(neck_map.reading, reach) if sounding not in met}
    return UnseenTune(
        name=entry.name,
        title=entry.title,
        difficulty=comparable_level(tune_readiness(entry, neck_map, costs=costs).difficulty),
        own=not entry.shipped,
        unmet=len(pitches & reach.keys()),
        stretches=sum(reach.get(sounding) is not Reach.IN_POSITION for sounding in pitches),
        kind=entry.kind,
        beside=entry.beside,
    )


def comparable_level(difficulty: float) -> float:
    """The level of fresh lines that is about as difficult, 1 to 8 and a little beyond."""
    table = DIFFICULTY_OF_LEVEL
    at = min(max(bisect_right(table, difficulty), 1), len(table) - 1)
    low, high = table[at - 1], table[at]
    return max(0.5, min(9.0, at + (difficulty - low) / (high - low)))
