"""The path of the hand through a phrase, where any place of a note is right: the best one, the one really played, and
the best one of places that were given for each note.

All are found by dynamic programming over places and positions, by the same table of costs as maps are. A shift has no
finger of its own: the hand may be anywhere a note can be taken from, and over an open string it stays where it was.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType
from typing import Final

from game.neck.hand import USUAL_HAND, FrettingHand
from game.neck.movement_costs import COSTS, Fingered, MovementCosts, fingered, note_cost, step_cost
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Place, Tuning

_ANYWHERE: Final[Mapping[Place, int]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class HandPath:
    """The notes one after another as the hand takes them, and what that costs altogether. `unreached` are the indexes
    of notes that the instrument does not have: they have no step.
    """

    steps: tuple[Fingered, ...]
    cost: float
    unreached: tuple[int, ...] = ()


def path_through(
    places: Sequence[Sequence[Place]],
    *,
    taken_from: Mapping[Place, int] = _ANYWHERE,
    hand: FrettingHand = USUAL_HAND,
    costs: MovementCosts = COSTS,
) -> HandPath:
    """The path of least cost through notes that may each be played at some places; `unreached` are those without one.

    `taken_from` are places that are learnt from one position, as homes of a map are. Taken from there they cost nothing
    by themselves; from any other they are an exception, and cost what an outlying home does beside their stretch.
    """
    path = _least([there for there in places if there], hand, costs, taken_from)
    missing = tuple(index for index, there in enumerate(places) if not there)
    return HandPath(steps=path.steps, cost=path.cost, unreached=missing)


def path_of(places: Iterable[Place], *, hand: FrettingHand = USUAL_HAND, costs: MovementCosts = COSTS) -> HandPath:
    """The path through these places, the hand being each time where it costs least."""
    return _least([(place,) for place in places], hand, costs)


@dataclass(frozen=True, slots=True, kw_only=True)
class BestBeside:
    """A good path beside one that was played, and what the best one costs. `left_at` is the index of the first place at
    which the one played goes no good way any more, None where it is one.
    """

    path: HandPath
    least_cost: float
    left_at: int | None


def best_path_beside(
    places: Sequence[Place],
    *,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    hand: FrettingHand = USUAL_HAND,
    costs: MovementCosts = COSTS,
    within: float = 0.0,
) -> BestBeside:
    """Of the good paths through the pitches of these places, those that cost no more than the best one and `within`,
    the one that goes along with the places longest: nobody is told of another way before there is reason. With 0 it is
    a best path.
    """
    choices = [tuning.places_of(tuning.sounding(place), frets) for place in places]
    best, played = _least(choices, hand, costs), path_of(places, hand=hand, costs=costs)
    least = best.cost
    if played.cost <= least + within:
        return BestBeside(path=played, least_cost=least, left_at=None)
    # To play more of the places as they were never costs less: between these two the last one is that goes along.
    along, beyond = 0, len(places)
    while beyond - along > 1:
        middle = (along + beyond) // 2
        tried = _least([*((place,) for place in places[:middle]), *choices[middle:]], hand, costs)
        if tried.cost <= least + within:
            along, best = middle, tried
        else:
            beyond = middle
    return BestBeside(path=best, least_cost=least, left_at=along)


def _least(
    places: Sequence[Sequence[Place]],
    hand: FrettingHand,
    costs: MovementCosts,
    taken_from: Mapping[Place, int] = _ANYWHERE,
) -> HandPath:
    if not places:
        return HandPath(steps=(), cost=0.0)
    columns = list(_columns(places, hand))
    # A note that comes again may be taken in the same ways: each is looked at once.
    alone = {id(column): [_cost_alone(one, costs, taken_from) for one in column] for column in columns}
    sums = alone[id(columns[0])]
    came_from: list[list[int]] = []
    for before, column in pairwise(columns):
        ranked = sorted(range(len(before)), key=sums.__getitem__)
        found, origins = [], []
        for one, cost_alone in zip(column, alone[id(column)], strict=True):
            least, origin = float("inf"), ranked[0]
            for index in ranked:
                # No step costs less than nothing: what is dearer already leads to nothing better.
                if sums[index] >= least:
                    break
                cost = sums[index] + step_cost(before[index], one, costs)
                if cost < least:
                    least, origin = cost, index
            found.append(least + cost_alone)
            origins.append(origin)
        sums = found
        came_from.append(origins)
    at = min(range(len(sums)), key=sums.__getitem__)
    cost, steps = sums[at], [columns[-1][at]]
    for column, origins in zip(reversed(columns[:-1]), reversed(came_from), strict=True):
        at = origins[at]
        steps.append(column[at])
    return HandPath(steps=tuple(reversed(steps)), cost=cost)


def _cost_alone(one: Fingered, costs: MovementCosts, taken_from: Mapping[Place, int]) -> float:
    own = taken_from.get(one.place) if one.finger else None
    if own is None:
        return note_cost(one, costs)
    return 0.0 if one.position == own else costs.outlying + note_cost(one, costs)


def _columns(places: Sequence[Sequence[Place]], hand: FrettingHand) -> Iterator[tuple[Fingered, ...]]:
    """How each note may be taken: for an open string with the hand wherever it may have been before, since staying
    there costs no more than going on in two shifts. At the beginning it may be wherever it is wanted first.
    """
    known: dict[tuple[tuple[Place, ...], tuple[int, ...]], tuple[Fingered, ...]] = {}
    before = _first_positions(places, hand)
    for there in places:
        key = (tuple(there), before if _may_be_open(there) else ())
        if key not in known:
            known[key] = tuple(
                fingered(place, position, hand)
                for place in there
                for position in (_from(place, hand) if place.fret else before)
            )
        yield known[key]
        before = tuple(sorted({one.position for one in known[key]}))


def _first_positions(places: Sequence[Sequence[Place]], hand: FrettingHand) -> tuple[int, ...]:
    """Where a finger may be wanted first: up to the first note that no open string has."""
    found: set[int] = set()
    for there in places:
        found |= {position for place in there if place.fret for position in _from(place, hand)}
        if not _may_be_open(there):
            break
    return tuple(sorted(found)) or (1,)


def _may_be_open(places: Iterable[Place]) -> bool:
    return any(place.fret == 0 for place in places)


def _from(place: Place, hand: FrettingHand) -> range:
    """The positions from which a fret is reached, stretches included."""
    return range(max(1, place.fret - hand.span + 1 - hand.on), place.fret + hand.back + 1)
