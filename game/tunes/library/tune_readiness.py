"""How ready a player is for a tune on the shelf: its difficulty on their map, with the notes they are slow to find.
Pure, and without opening the tune.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from game.music.difficulty import player_parts
from game.neck.neck_map import NeckMap, Reach
from game.tunes.library.shelf_entry import ShelfEntry

# What a pitch costs the hand, a stretch being 1 (ours): a shift is more, a pitch without a home more still.
_COST = {Reach.IN_POSITION: 0.0, Reach.STRETCH: 1.0, Reach.OUTLYING: 2.0}
NO_HOME = 4.0
NO_WEIGHTS: Mapping[int, float] = {}
_MIDI_NUMBERS = range(128)


@dataclass(frozen=True, slots=True, kw_only=True)
class TuneReadiness:
    """`difficulty` is what to order by. `stretched` and `off_map` count notes of the page."""

    difficulty: float
    stretched: int
    off_map: int


def pitch_costs(neck_map: NeckMap) -> dict[int, float]:
    """What each sounding pitch costs the hand on this map."""
    homes = {home.sounding: _COST[home.reach] for home in neck_map.homes}
    return {pitch: homes.get(pitch, NO_HOME) for pitch in _MIDI_NUMBERS}


def tune_readiness(
    entry: ShelfEntry,
    neck_map: NeckMap,
    weights: Mapping[int, float] = NO_WEIGHTS,
    costs: Mapping[int, float] | None = None,
) -> TuneReadiness:
    """The readiness for one tune. `weights`, by sounding pitch, is 0 for fluent notes and 1 for slow ones; `costs` is
    `pitch_costs(neck_map)`, for many tunes in a row.
    """
    costs = pitch_costs(neck_map) if costs is None else costs
    counts = {pitch: count for pitch, count in entry.sounding(neck_map.reading, neck_map.places) if pitch in costs}
    stretches, slow = player_parts(counts, stretches=costs, weights=weights)
    return TuneReadiness(
        difficulty=entry.difficulty + stretches + slow,
        stretched=sum(count for pitch, count in counts.items() if 0 < costs[pitch] < NO_HOME),
        off_map=sum(count for pitch, count in counts.items() if costs[pitch] == NO_HOME),
    )
