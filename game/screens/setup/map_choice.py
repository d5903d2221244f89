"""What is looked at on the map: a pitch, and another place where it could have its home. Pure."""

from dataclasses import dataclass
from typing import Final

from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

_BACK, _ON = 1, 4
"""How many frets below and above the first finger's a hand reaches (see `game.neck.neck_map`)."""

_FRETS_OF_MORE: Final = 12


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A sounding pitch (MIDI number), whose home is shown if it has one, and another place for it, None for none."""

    sounding: int
    other: Place | None = None


def other_places(neck_map: NeckMap, sounding: int) -> tuple[Place, ...]:
    """Every place of the neck that sounds a pitch but its home, those nearest to the position first."""
    tuning, home = neck_map.tuning, neck_map.home_of(sounding)
    found = (
        Place(string, sounding - open_string)
        for string, open_string in enumerate(tuning.open_strings, start=1)
        if 0 <= sounding - open_string <= neck_map.frets
    )
    others = (place for place in found if home is None or place != home.place)
    return tuple(sorted(others, key=lambda place: (_away(neck_map, place), place)))


def look_at_place(neck_map: NeckMap, place: Place) -> LookedAt:
    """What a place shows: of a home also the other place within reach, if there is one."""
    sounding = neck_map.tuning.sounding(place)
    home = neck_map.home_of(sounding)
    if home is None or home.place != place:
        return LookedAt(sounding, place)
    return look_at_pitch(neck_map, sounding)


def look_at_pitch(neck_map: NeckMap, sounding: int) -> LookedAt:
    """A pitch with the other place within reach of the position, if there is one."""
    within = (place for place in other_places(neck_map, sounding) if not _away(neck_map, place))
    return LookedAt(sounding, next(within, None))


def next_other(neck_map: NeckMap, looked: LookedAt) -> LookedAt:
    """The next of the other places, and after the last one none, where the pitch has a home."""
    places: tuple[Place | None, ...] = other_places(neck_map, looked.sounding)
    if neck_map.home_of(looked.sounding) is not None:
        places = (*places, None)
    at = places.index(looked.other) if looked.other in places else -1
    return LookedAt(looked.sounding, places[(at + 1) % len(places)])


def next_pitch(neck_map: NeckMap, looked: LookedAt | None, by: int) -> LookedAt:
    """The next home by pitch, up or down, round the ends; the first or the last where nothing was looked at."""
    pitches = [home.sounding for home in neck_map.homes]
    if looked is None:
        return look_at_pitch(neck_map, pitches[0 if by > 0 else -1])
    beyond = [one for one in pitches if (one > looked.sounding) == (by > 0) and one != looked.sounding]
    if not beyond:
        return look_at_pitch(neck_map, pitches[0 if by > 0 else -1])
    return look_at_pitch(neck_map, (min if by > 0 else max)(beyond))


def frets_in_sight(neck_map: NeckMap, looked: LookedAt | None, *, more: bool = False) -> tuple[int, int]:
    """From which fret to which the neck is drawn, 0 for the nut: what the hand reaches, all homes and what is looked
    at; `more` draws a dozen frets at least.
    """
    frets = [home.place.fret for home in neck_map.homes]
    frets += [looked.other.fret] if looked and looked.other else []
    lowest = min([neck_map.position - _BACK, *frets])
    highest = min(neck_map.frets, max([neck_map.position + _ON, *frets]))
    if more:
        first = 0 if neck_map.position <= _FRETS_OF_MORE - _ON + 1 else neck_map.position - 2 * _ON
        lowest = min(lowest, first + 1 if first else 0)
        highest = min(neck_map.frets, max(highest, lowest + _FRETS_OF_MORE))
    return max(0, lowest - 1), highest


def _away(neck_map: NeckMap, place: Place) -> int:
    """How many frets a place lies beyond what the hand reaches; 0 within."""
    lowest, highest = neck_map.position - _BACK, neck_map.position + _ON
    return max(0, lowest - place.fret, place.fret - highest)
