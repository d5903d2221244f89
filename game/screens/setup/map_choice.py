"""What is looked at on the map: a pitch, and another place that was picked for it. Pure."""

from dataclasses import dataclass
from typing import Final

from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

_FRETS_OF_MORE: Final = 12
_LOW_POSITION: Final = 9
"""Up to here the whole neck can be drawn with room for every home: from the nut the frets are far apart."""


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A sounding pitch (MIDI number), whose home is shown if it has one, and another place that was picked for it, None
    for none.
    """

    sounding: int
    other: Place | None = None


def other_places(neck_map: NeckMap, sounding: int) -> tuple[Place, ...]:
    """Every place of the neck that sounds a pitch but its home, those nearest to the hand first."""
    tuning, home = neck_map.tuning, neck_map.home_of(sounding)
    found = (
        Place(string, sounding - open_string)
        for string, open_string in enumerate(tuning.open_strings, start=1)
        if 0 <= sounding - open_string <= neck_map.frets
    )
    others = (place for place in found if home is None or place != home.place)
    return tuple(sorted(others, key=lambda place: (_away(neck_map, place), place)))


def look_at_place(neck_map: NeckMap, place: Place) -> LookedAt:
    """What a place shows: of a home its note, any other is picked."""
    sounding = neck_map.tuning.sounding(place)
    home = neck_map.home_of(sounding)
    return LookedAt(sounding, None if home is not None and home.place == place else place)


def look_at_pitch(sounding: int) -> LookedAt:
    """A pitch, and none of its other places."""
    return LookedAt(sounding)


def next_other(neck_map: NeckMap, looked: LookedAt) -> LookedAt:
    """The next of the other places, and after the last one none, where the pitch has a home."""
    places: tuple[Place | None, ...] = other_places(neck_map, looked.sounding)
    if neck_map.home_of(looked.sounding) is not None or not places:
        places = (*places, None)
    at = places.index(looked.other) if looked.other in places else -1
    return LookedAt(looked.sounding, places[(at + 1) % len(places)])


def next_pitch(neck_map: NeckMap, looked: LookedAt | None, by: int) -> LookedAt:
    """The next home by pitch, up or down, round the ends; the first or the last where nothing was looked at."""
    pitches = [home.sounding for home in neck_map.homes]
    if looked is None:
        return look_at_pitch(pitches[0 if by > 0 else -1])
    beyond = [one for one in pitches if (one > looked.sounding) == (by > 0) and one != looked.sounding]
    if not beyond:
        return look_at_pitch(pitches[0 if by > 0 else -1])
    return look_at_pitch((min if by > 0 else max)(beyond))


def frets_in_sight(neck_map: NeckMap, looked: LookedAt | None, *, more: bool = False) -> tuple[int, int]:
    """From which fret to which the neck is drawn, 0 for the nut: what the hand reaches, all homes and what was picked.
    `more` draws the whole neck where there is room for all of it, else a dozen frets at least.
    """
    frets = [home.place.fret for home in neck_map.homes]
    frets += [looked.other.fret] if looked and looked.other else []
    lowest = min([_lowest_fret(neck_map), *frets])
    highest = min(neck_map.frets, max([_highest_fret(neck_map), *frets]))
    if more and neck_map.positions[-1] <= _LOW_POSITION:
        return 0, neck_map.frets
    if more:
        lowest = min(lowest, neck_map.positions[0] - 2 * neck_map.hand.span + 1)
        highest = min(neck_map.frets, max(highest, lowest + _FRETS_OF_MORE))
    return max(0, lowest - 1), highest


def out_of_sight(neck_map: NeckMap, looked: LookedAt | None, *, more: bool = False) -> tuple[Place, ...]:
    """The other places of what is looked at that lie beside the part of the neck that is drawn."""
    if looked is None:
        return ()
    first, last = frets_in_sight(neck_map, looked, more=more)
    return tuple(
        place
        for place in other_places(neck_map, looked.sounding)
        if place.fret > last or place.fret < (first + 1 if first else 0)
    )


def _lowest_fret(neck_map: NeckMap) -> int:
    """The lowest fret that the hand reaches."""
    return neck_map.hand.lowest_fret(neck_map.positions[0])


def _highest_fret(neck_map: NeckMap) -> int:
    return neck_map.hand.highest_fret(neck_map.positions[-1])


def _away(neck_map: NeckMap, place: Place) -> int:
    """How many frets a place lies beyond what the hand reaches in the position next to it; 0 within."""
    hand = neck_map.hand
    return min(
        max(0, hand.lowest_fret(position) - place.fret, place.fret - hand.highest_fret(position))
        for position in neck_map.positions
    )
