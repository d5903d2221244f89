"""How a map serves some melodies, in figures, and what it gives up, in words."""

from collections.abc import Iterator
from dataclasses import dataclass

from game.message import Message, message
from game.music.keys import Key, spelled
from game.neck.melody_counts import MelodyCounts
from game.neck.movement_costs import COSTS, Fingered, MovementCosts, fingered, is_jump, note_cost, step_cost
from game.neck.neck_map import Home, NeckMap, Reach, reach_of
from game.neck.tuning import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class MapFigures:
    """A map and how it serves some notes, each counted as often as it occurs.

    Shares run from 0 to 1: of notes that have a home, of stretched ones, and of those at outlying homes. `movement` is
    the mean cost a note by the table of costs. `gives_up` are sentences. `unreached` are the sounding pitches without a
    home. No notes at all are wholly on any map, and move nothing.
    """

    neck_map: NeckMap
    on_map_share: float
    stretch_share: float
    outlying_share: float
    movement: float
    gives_up: tuple[Message, ...]
    unreached: tuple[int, ...]


def figures_of(neck_map: NeckMap, counts: MelodyCounts, costs: MovementCosts = COSTS) -> MapFigures:
    """How `neck_map` serves the melodies counted."""
    homes = {home.sounding: home for home in neck_map.homes if home.sounding in counts.counts}
    taken = {sounding: _taken(home, neck_map) for sounding, home in homes.items()}
    notes = counts.notes or 1
    unreached = tuple(sorted(counts.counts.keys() - homes.keys()))
    missing = sum(counts.counts[sounding] for sounding in unreached)
    stretched = sum(counts.counts[sounding] for sounding, home in homes.items() if home.stretch)
    outlying = sum(counts.counts[sounding] for sounding, home in homes.items() if home.outlying)
    total = missing * costs.off_map
    for sounding, home in homes.items():
        total += counts.counts[sounding] * _home_cost(home.reach, taken[sounding], costs)
    jumps = 0
    for (before, after), times in counts.pairs.items():
        if before != after and before in taken and after in taken:
            one, other = taken[before], taken[after]
            total += times * step_cost(one, other, costs)
            if one.finger == other.finger:
                jumps += times * is_jump(one, other)
    return MapFigures(
        neck_map=neck_map,
        on_map_share=1 - missing / notes,
        stretch_share=stretched / notes,
        outlying_share=outlying / notes,
        movement=total / notes,
        gives_up=tuple(_given_up(neck_map, counts, stretched=stretched, outlying=outlying, jumps=jumps)),
        unreached=unreached,
    )


def cost_of_moving(neck_map: NeckMap, place: Place, counts: MelodyCounts, costs: MovementCosts = COSTS) -> float:
    """How much `movement` changes, negative for less, when `place` becomes the home of the pitch it sounds.

    Looks only at that pitch and its neighbours, so that every place of a neck can be asked for.
    """
    moved = neck_map.tuning.sounding(place)
    times = counts.counts.get(moved, 0)
    now = neck_map.home_of(moved)
    if not times or (now is not None and now.place == place):
        return 0.0
    taken = {home.sounding: _taken(home, neck_map) for home in neck_map.homes}
    new, old = _fingered(place, neck_map), taken.get(moved)
    change = times * _home_cost(_reach(place, neck_map), new, costs)
    change -= times * (costs.off_map if now is None or old is None else _home_cost(now.reach, old, costs))
    for (before, after), often in counts.pairs.items():
        if before == after or moved not in (before, after):
            continue
        other = taken.get(after if before == moved else before)
        if other is not None:
            change += often * (step_cost(new, other, costs) - (step_cost(old, other, costs) if old else 0.0))
    return change / counts.notes


def _taken(home: Home, neck_map: NeckMap) -> Fingered:
    if neck_map.second is None and not home.outlying:
        return fingered(home.place, neck_map.position, neck_map.hand)
    return _fingered(home.place, neck_map)


def _fingered(place: Place, neck_map: NeckMap) -> Fingered:
    return fingered(place, neck_map.hand_position(place), neck_map.hand)


def _reach(place: Place, neck_map: NeckMap) -> Reach:
    reaches = [reach_of(place.fret, position, neck_map.hand) for position in neck_map.positions]
    return Reach.OUTLYING if all(reach is Reach.OUTLYING for reach in reaches) else Reach.IN_POSITION


def _home_cost(reach: Reach, taken: Fingered, costs: MovementCosts) -> float:
    return note_cost(taken, costs) + (costs.outlying if reach is Reach.OUTLYING else 0.0)


def _given_up(
    neck_map: NeckMap, counts: MelodyCounts, *, stretched: int, outlying: int, jumps: int
) -> Iterator[Message]:
    """What somebody ought to know who takes this map for these notes."""
    homes, tuning = neck_map.homes, neck_map.tuning
    if not homes or not counts.counts:
        return
    if not any(home.place.fret == 0 for home in homes) and counts.counts.keys() & set(tuning.open_strings):
        yield message("map.given_up.open_strings")
    yield from _off_map(homes, neck_map, counts)
    notes = counts.notes
    if stretched:
        yield message("map.given_up.stretches", count=stretched, share=stretched / notes)
    if outlying:
        yield message("map.given_up.outlying", count=outlying, share=outlying / notes)
    if jumps:
        yield message("map.given_up.jumps", count=jumps)


def _off_map(homes: tuple[Home, ...], neck_map: NeckMap, counts: MelodyCounts) -> Iterator[Message]:
    """How many notes lie below, above and between the homes."""
    lowest, highest = homes[0].sounding, homes[-1].sounding
    homed = {home.sounding for home in homes}
    below = sum(times for sounding, times in counts.counts.items() if sounding < lowest)
    above = sum(times for sounding, times in counts.counts.items() if sounding > highest)
    between = sum(
        times for sounding, times in counts.counts.items() if lowest < sounding < highest and sounding not in homed
    )
    if below:
        yield message("map.given_up.below", count=below, note=_written(lowest, neck_map))
    if above:
        yield message("map.given_up.above", count=above, note=_written(highest, neck_map))
    if between:
        yield message("map.given_up.between", count=between)


def _written(sounding: int, neck_map: NeckMap) -> str:
    return spelled(sounding + 12 * neck_map.reading.octaves_down, Key(0)).name
