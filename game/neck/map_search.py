"""The search for the map that serves given tunes best: exact for each position, and all positions side by side.

A pitch that the position holds, stretches included, stays in it; where it is held twice the neighbours in the tunes
decide. A pitch that it does not hold gets an outlying home where that costs least; every pitch that the instrument has
has a home then. What is least is found with certainty (`least_cost.py`).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from game.music.score import Reading
from game.neck.hand import USUAL_HAND, FrettingHand
from game.neck.least_cost import least_choices
from game.neck.map_figures import MapFigures, figures_of
from game.neck.melody_counts import MelodyCounts
from game.neck.movement_costs import COSTS, Fingered, fingered, note_cost, step_cost
from game.neck.neck_map import DEFAULT_POSITION, NeckMap, Reach, highest_position, new_map, reach_of
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Place, Tuning

HIGHEST_SEARCHED_POSITION: Final = 12


@dataclass(frozen=True, slots=True)
class _Option:
    """One place that may become the home of a pitch, as the hand takes it, and what that costs alone."""

    taken: Fingered
    cost: float


def best_map(
    counts: MelodyCounts,
    position: int | None = None,
    *,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    reading: Reading = Reading.GUITAR,
    hand: FrettingHand = USUAL_HAND,
    outlying: bool = True,
) -> MapFigures:
    """The map that costs least in the melodies counted, of one position or, where none is given, of all of them.

    Without `outlying`, pitches that the position does not hold have no home. Raises `MapError` for a position that the
    neck has not, and for frets or a hand out of range.
    """
    if position is None:
        return best_maps(counts, tuning=tuning, frets=frets, reading=reading, hand=hand, outlying=outlying)[0]
    standard = new_map(position=position, tuning=tuning, frets=frets, reading=reading, hand=hand)
    return _best_of_position(standard, counts, _places_of(counts, tuning, frets), outlying=outlying)


def best_maps(
    counts: MelodyCounts,
    *,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    reading: Reading = Reading.GUITAR,
    hand: FrettingHand = USUAL_HAND,
    outlying: bool = True,
) -> tuple[MapFigures, ...]:
    """The best map of each position that the neck has, up to XII: the one with least movement first; of equals the
    one nearest to position V. Raises `MapError` for frets or a hand out of range.
    """
    highest = min(HIGHEST_SEARCHED_POSITION, highest_position(frets, hand))
    places = _places_of(counts, tuning, frets)
    found = [
        _best_of_position(
            new_map(position=position, tuning=tuning, frets=frets, reading=reading, hand=hand),
            counts,
            places,
            outlying=outlying,
        )
        for position in range(1, highest + 1)
    ]
    return tuple(
        sorted(found, key=lambda one: (one.movement, abs(one.neck_map.position - DEFAULT_POSITION), one.stretch_share))
    )


def outlying_homes(neck_map: NeckMap, counts: MelodyCounts) -> dict[int, Place]:
    """For each pitch of the melodies counted that has no home on `neck_map` the outlying one, by sounding pitch, that
    costs least together with the others, every home staying where it is. Pitches the instrument has not are left out.
    """
    usual = neck_map.places
    options = {sounding: found for sounding in sorted(counts.counts) if (found := _beside(sounding, neck_map))}
    return {sounding: place for sounding, place in _least_homes(options, counts).items() if sounding not in usual}


def _places_of(counts: MelodyCounts, tuning: Tuning, frets: int) -> dict[int, tuple[Place, ...]]:
    """Every place of each pitch that occurs."""
    return {sounding: tuning.places_of(sounding, frets) for sounding in sorted(counts.counts)}


def _best_of_position(
    standard: NeckMap, counts: MelodyCounts, places: Mapping[int, tuple[Place, ...]], *, outlying: bool
) -> MapFigures:
    usual = standard.places
    reached = {
        fret
        for fret in range(standard.frets + 1)
        if reach_of(fret, standard.position, standard.hand) is not Reach.OUTLYING
    }
    options = {}
    for sounding, there in places.items():
        within = [place for place in there if place.fret in reached]
        if within:
            options[sounding] = _within(within, standard, usual.get(sounding))
        elif there and outlying:
            options[sounding] = _outside(there, standard)
    homes = _least_homes(options, counts)
    choices = {sounding: place for sounding, place in homes.items() if usual.get(sounding) != place}
    best = standard
    if choices:
        best = new_map(
            position=standard.position,
            tuning=standard.tuning,
            frets=standard.frets,
            reading=standard.reading,
            hand=standard.hand,
            choices=choices,
        )
    return figures_of(best, counts)


def _within(places: list[Place], standard: NeckMap, usual: Place | None) -> tuple[_Option, ...]:
    """Places that the position holds, the usual one first."""
    if len(places) > 1:
        places.sort(key=lambda place: (place != usual, place))
    taken = [fingered(place, standard.position, standard.hand) for place in places]
    return tuple(_Option(one, note_cost(one)) for one in taken)


def _beside(sounding: int, neck_map: NeckMap) -> tuple[_Option, ...]:
    """The home a pitch has; where it has none, all its places."""
    home = neck_map.home_of(sounding)
    if home is None:
        return _outside(neck_map.tuning.places_of(sounding, neck_map.frets), neck_map)
    return (_Option(fingered(home.place, neck_map.hand_position(home.place), neck_map.hand), 0.0),)


def _outside(places: Iterable[Place], neck_map: NeckMap) -> tuple[_Option, ...]:
    """Places outside the position, those nearest to the hand first."""
    hand = neck_map.hand
    taken = [fingered(place, neck_map.hand_position(place), hand) for place in places]
    taken.sort(key=lambda one: (min(abs(one.position - own) for own in neck_map.positions), one.place))
    return tuple(_Option(one, note_cost(one) + COSTS.outlying) for one in taken)


def _least_homes(options: Mapping[int, tuple[_Option, ...]], counts: MelodyCounts) -> dict[int, Place]:
    """The home of each pitch with which notes and steps cost least together."""
    homes = {sounding: found[0].taken.place for sounding, found in options.items()}
    free = [sounding for sounding, found in options.items() if len(found) > 1]
    at = {sounding: index for index, sounding in enumerate(free)}
    alone = [[option.cost * counts.counts[sounding] for option in options[sounding]] for sounding in free]
    paired: dict[tuple[int, int], list[list[float]]] = {}
    for (before, after), times in counts.pairs.items():
        if before == after or before not in options or after not in options:
            continue
        if before not in at and after not in at:
            continue
        if before in at and after in at:
            first, second = (before, after) if at[before] < at[after] else (after, before)
            steps = [[times * step_cost(one.taken, other.taken) for other in options[second]] for one in options[first]]
            known = paired.get((at[first], at[second]))
            if known is not None:
                steps = [
                    [a + b for a, b in zip(row, more, strict=True)] for row, more in zip(known, steps, strict=True)
                ]
            paired[at[first], at[second]] = steps
        else:
            one, other = (before, after) if before in at else (after, before)
            settled = options[other][0].taken
            row = alone[at[one]]
            for index, option in enumerate(options[one]):
                row[index] += times * step_cost(option.taken, settled)
    for sounding, choice in zip(free, least_choices(alone, paired), strict=True):
        homes[sounding] = options[sounding][choice].taken.place
    return homes
