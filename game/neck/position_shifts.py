"""Where the hand is in a melody that is read on a map, and where it shifts. Pure.

A note that has a home is played there, and the map says from which position: that costs nothing. For one without a
home the hand goes where the best path through the melody takes it (`game.neck.hand_path`), for an outlying one to
wherever it is reached. So it leaves its position only for what lies beyond, and does not come back for a note or two
that it reaches from there: a home taken by another finger is an exception, and a shift there and back costs more.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from game.neck.hand import FrettingHand
from game.neck.hand_path import path_through
from game.neck.movement_costs import COSTS, MovementCosts
from game.neck.neck_map import Home, NeckMap
from game.neck.tuning import Place, Tuning

# The melodies of a page, of the shelf and of the account are asked for again and again.
_KEPT_MELODIES = 64


@dataclass(frozen=True, slots=True)
class PositionShift:
    """The hand is in another position from note `index` on, counted from 0."""

    index: int
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MelodyPositions:
    """Where each note of a melody is played, and from which position. A note that the instrument does not have has no
    place; neither it nor an open string has a position.
    """

    places: tuple[Place | None, ...]
    positions: tuple[int | None, ...]

    @property
    def first(self) -> int | None:
        """The position in which the melody begins, None where no finger is wanted."""
        return next((position for position in self.positions if position is not None), None)

    @property
    def shifts(self) -> tuple[PositionShift, ...]:
        """Where the hand goes, one after another; an open string makes none."""
        found, before = [], self.first
        for index, position in enumerate(self.positions):
            if position is not None and position != before:
                found.append(PositionShift(index, position))
                before = position
        return tuple(found)


def positions_in(soundings: Sequence[int], neck_map: NeckMap, costs: MovementCosts = COSTS) -> MelodyPositions:
    """Where the hand is at each of these sounding pitches (MIDI numbers), in order of play."""
    homes = tuple((home.sounding, home.place, _own_position(neck_map, home)) for home in neck_map.homes)
    return _kept(tuple(soundings), homes, neck_map.tuning, neck_map.frets, neck_map.hand, costs)


def _own_position(neck_map: NeckMap, home: Home) -> int | None:
    """The position of the map from which a home is taken, None for an open string and an outlying one."""
    return None if home.outlying or not home.place.fret else neck_map.hand_position(home.place)


@lru_cache(maxsize=_KEPT_MELODIES)
def _kept(
    soundings: tuple[int, ...],
    homes: tuple[tuple[int, Place, int | None], ...],
    tuning: Tuning,
    frets: int,
    hand: FrettingHand,
    costs: MovementCosts,
) -> MelodyPositions:
    by_pitch = {sounding: place for sounding, place, _ in homes}
    taken_from = {place: position for _, place, position in homes if position is not None}
    at_home = [by_pitch.get(sounding) for sounding in soundings]
    wanted = {taken_from.get(place) if place else None for place in at_home if place is None or place.fret}
    if len(wanted) == 1 and None not in wanted:
        # Nothing takes the hand out of its position, and no path has to be found.
        (position,) = wanted
        positions = tuple(position if place and place.fret else None for place in at_home)
        return MelodyPositions(places=tuple(at_home), positions=positions)
    choices = [
        (home,) if home else tuning.places_of(sounding, frets)
        for sounding, home in zip(soundings, at_home, strict=True)
    ]
    steps = iter(path_through(choices, taken_from=taken_from, hand=hand, costs=costs).steps)
    taken = [next(steps) if there else None for there in choices]
    return MelodyPositions(
        places=tuple(one.place if one else None for one in taken),
        positions=tuple(one.position if one and one.finger else None for one in taken),
    )
