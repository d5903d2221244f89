"""The map: one home on the neck for each sounding pitch, never two.

A position puts the first finger at fret P and the fourth at P+3. One fret more is a stretch: P-1 with the first
finger reaching back, P+4 with the fourth reaching on. In standard tuning position V then runs from A♭2 to C♯5 sounding
with every semitone (trade, calc: see the tests). Where both stretches give the same pitch the first finger reaches
back, unless the player chose otherwise. Another `FrettingHand` reaches otherwise.

A map may join a second region to the first: pitches from the seam up lie in the higher position, those below it in the
lower one, and the hand shifts between them. A pitch that its own region lacks may have its home in the other.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import lru_cache
from typing import Any

from game.errors import MapError
from game.message import Message, message
from game.music.score import Reading
from game.neck.hand import USUAL_HAND, FrettingHand
from game.neck.tuning import DEFAULT_FRETS, MAX_FRETS, STANDARD, Place, Tuning

DEFAULT_POSITION = 5
FEWEST_FRETS = 4
# Settings are asked for their map by every row and page; a player has one, and some more while one is chosen.
_KEPT_MAPS = 16


class Reach(Enum):
    """How a home is reached from the position."""

    IN_POSITION = "in position"
    STRETCH = "stretch"
    OUTLYING = "outlying"


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """The one place of a sounding pitch (MIDI number). An outlying home costs a shift."""

    sounding: int
    place: Place
    reach: Reach

    @property
    def stretch(self) -> bool:
        """Whether a finger reaches one fret out of the position."""
        return self.reach is Reach.STRETCH

    @property
    def outlying(self) -> bool:
        """Whether the home lies outside the position and its stretches."""
        return self.reach is Reach.OUTLYING


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondRegion:
    """Another position joined to that of a map: `seam` is the lowest sounding pitch (MIDI number) of the higher one."""

    position: int
    seam: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NeckMap:
    """The chosen places for one position, tuning, number of frets, hand and reading octave. Make it with
    `standard_map`.

    `homes` are in order of pitch. `choices` are the places the player chose by hand, by sounding pitch. `second` is a
    region joined to the first, None for none.
    """

    position: int
    tuning: Tuning
    frets: int
    reading: Reading
    homes: tuple[Home, ...]
    choices: Mapping[int, Place] = field(default_factory=dict)
    hand: FrettingHand = USUAL_HAND
    second: SecondRegion | None = None

    def home_of(self, sounding: int) -> Home | None:
        """The home of a sounding pitch, or None when the map does not reach it."""
        for home in self.homes:
            if home.sounding == sounding:
                return home
        return None

    @property
    def places(self) -> dict[int, Place]:
        """Sounding pitch to place, for instruments and simulated players."""
        return {home.sounding: home.place for home in self.homes}

    @property
    def positions(self) -> tuple[int, ...]:
        """The positions of its regions, the lower one first: one, or two that are joined."""
        return (self.position,) if self.second is None else tuple(sorted((self.position, self.second.position)))

    @property
    def highest_position(self) -> int:
        """The highest position in which every finger of the hand has a fret."""
        return highest_position(self.frets, self.hand)

    def region_of(self, sounding: int) -> int:
        """The position to which a pitch belongs, whether or not it has a home there."""
        lower, higher = self.positions[0], self.positions[-1]
        return higher if self.second is not None and sounding >= self.second.seam else lower

    def regions_for(self, sounding: int) -> tuple[int, ...]:
        """The positions of its regions, that of a pitch first."""
        own = self.region_of(sounding)
        return (own, *(one for one in self.positions if one != own))

    def hand_position(self, place: Place) -> int:
        """The position from which the hand takes a place: one of the map's own where it reaches that far, that of the
        pitch first; else the nearest one that has the fret under the fingers. An open string moves no hand.
        """
        regions = (self.position,) if self.second is None else self.regions_for(self.tuning.sounding(place))
        within = [one for one in regions if reach_of(place.fret, one, self.hand) is not Reach.OUTLYING]
        return within[0] if within else self.hand.shifted_to(place.fret, regions[0])

    def remade(self, **changes: Any) -> "NeckMap":
        """The map made anew with other words of `standard_map`; the rest as it is. Raises `MapError`."""
        words = {name: getattr(self, name) for name in _MADE_FROM} | changes
        return standard_map(**words)

    def with_choice(self, place: Place) -> "NeckMap":
        """The same map with `place` as the home of the pitch it sounds. Any place of the neck will do."""
        return self.remade(choices={**self.choices, self.tuning.sounding(place): place})

    @property
    def without_homes(self) -> "NeckMap":
        """The same map with no home at all: each note may be taken in any place."""
        return replace(self, homes=())

    def with_reading(self, reading: Reading) -> "NeckMap":
        """The same places read at another octave."""
        return replace(self, reading=reading)

    @property
    def free_string(self) -> Place | None:
        """The lowest open string whose pitch has no home: free for commands. None where each has one."""
        homes = self.places
        free = [
            Place(string, 0)
            for string, sounding in enumerate(self.tuning.open_strings, start=1)
            if sounding not in homes
        ]
        return max(free, default=None)


_MADE_FROM = ("position", "tuning", "frets", "reading", "choices", "hand", "second")


def standard_map(
    *,
    position: int = DEFAULT_POSITION,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    reading: Reading = Reading.GUITAR,
    choices: Mapping[int, Place] | None = None,
    hand: FrettingHand = USUAL_HAND,
    second: SecondRegion | None = None,
) -> NeckMap:
    """The map of a position, or of two joined ones.

    `position` is 1 to `frets` - 3 with the usual hand, whose fingers span four frets; `frets` 4 to 30. `choices`
    overrule homes or add outlying ones, by sounding pitch; each place must sound the pitch it stands for. Raises
    `MapError` with all faults at once.
    """
    return _kept_map(position, tuning, frets, reading, tuple((choices or {}).items()), hand, second)


def new_map(
    *,
    position: int = DEFAULT_POSITION,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    reading: Reading = Reading.GUITAR,
    choices: Mapping[int, Place] | None = None,
    hand: FrettingHand = USUAL_HAND,
    second: SecondRegion | None = None,
) -> NeckMap:
    """What `standard_map` gives, made anew and not kept: a search goes through many maps, and the player's stay."""
    return _made_map(position, tuning, frets, reading, tuple((choices or {}).items()), hand, second)


def _made_map(
    position: int,
    tuning: Tuning,
    frets: int,
    reading: Reading,
    chosen: tuple[tuple[int, Place], ...],
    hand: FrettingHand,
    second: SecondRegion | None,
) -> NeckMap:
    choices = dict(chosen)
    faults = _faults(position, tuning, frets, choices, hand, second)
    if faults:
        raise MapError("faults", faults=faults)
    empty = NeckMap(
        position=position,
        tuning=tuning,
        frets=frets,
        reading=reading,
        homes=(),
        choices=choices,
        hand=hand,
        second=second,
    )
    return replace(empty, homes=_homes(empty, _places_of_regions(empty) | choices))


_kept_map = lru_cache(maxsize=_KEPT_MAPS)(_made_map)


def _homes(neck_map: NeckMap, by_pitch: Mapping[int, Place]) -> tuple[Home, ...]:
    """Each place as it is reached, in order of pitch. Many lie at one fret, and are reached alike."""
    known: dict[tuple[int, tuple[int, ...]], Reach] = {}
    homes = []
    for sounding, place in sorted(by_pitch.items()):
        regions = (neck_map.position,) if neck_map.second is None else neck_map.regions_for(sounding)
        key = (place.fret, regions)
        if key not in known:
            known[key] = _reach_from(place.fret, regions, neck_map.hand)
        homes.append(Home(sounding=sounding, place=place, reach=known[key]))
    return tuple(homes)


def _places_of_regions(neck_map: NeckMap) -> dict[int, Place]:
    """Sounding pitch to place, each in its own region where that has it."""
    of_regions = [_places_of_region(neck_map, position) for position in neck_map.positions]
    if neck_map.second is None:
        return of_regions[0]
    lower, higher = of_regions[0], of_regions[-1]
    own = {
        sounding: place
        for places, position in zip(of_regions, neck_map.positions, strict=True)
        for sounding, place in places.items()
        if neck_map.region_of(sounding) == position
    }
    return lower | higher | own


def _places_of_region(neck_map: NeckMap, position: int) -> dict[int, Place]:
    from_the_lowest = list(enumerate(neck_map.tuning.open_strings, start=1))[::-1]
    by_pitch = dict[int, Place]()
    for fret in _frets_by_preference(position, neck_map.hand):
        if fret > neck_map.frets:
            continue
        for string, open_string in from_the_lowest:
            if open_string + fret not in by_pitch:
                by_pitch[open_string + fret] = Place(string, fret)
    return by_pitch


def roman(position: int) -> str:
    """A position as guitarists write it: 5 is "V"."""
    text = ""
    for value, letters in ((10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I")):
        while position >= value:
            text += letters
            position -= value
    return text


def _frets_by_preference(position: int, hand: FrettingHand) -> tuple[int, ...]:
    """Frets in the order in which they may claim a pitch: under the fingers first, then reaching back, then on.

    In position I the open strings come first: they cost no finger, and the open B is everybody's B3 (trade). Elsewhere
    they come before a stretch, where they are homes at all.
    """
    under_fingers = tuple(hand.under_fingers(position))
    lowest, highest = hand.lowest_fret(position), hand.highest_fret(position)
    stretches = (*range(position - 1, max(lowest, 1) - 1, -1), *range(position + hand.span, highest + 1))
    if position == 1:
        return (0, *under_fingers, *stretches)
    reaches_nut = position - hand.back <= 0
    return (*under_fingers, *((0,) if hand.open_strings else ()), *stretches, *((0,) if reaches_nut else ()))


def reach_of(fret: int, position: int, hand: FrettingHand) -> Reach:
    """How a hand in a position reaches a fret. Open strings need no finger where they are homes."""
    if fret in hand.under_fingers(position) or (fret == 0 and (position == 1 or hand.open_strings)):
        return Reach.IN_POSITION
    return Reach.STRETCH if hand.lowest_fret(position) <= fret <= hand.highest_fret(position) else Reach.OUTLYING


def _reach_from(fret: int, positions: Sequence[int], hand: FrettingHand) -> Reach:
    """From the first of these positions that reaches a fret at all."""
    reaches = [reach_of(fret, position, hand) for position in positions]
    return next((reach for reach in reaches if reach is not Reach.OUTLYING), Reach.OUTLYING)


def highest_position(frets: int, hand: FrettingHand) -> int:
    """The highest position in which the fingers of a hand, one to a fret, all lie on a neck of so many frets."""
    return max(1, frets - hand.span + 1)


def _faults(
    position: int,
    tuning: Tuning,
    frets: int,
    choices: Mapping[int, Place],
    hand: FrettingHand,
    second: SecondRegion | None,
) -> list[Message]:
    faults = []
    if not FEWEST_FRETS <= frets <= MAX_FRETS:
        faults.append(message("map.frets_out_of_range", fewest=FEWEST_FRETS, most=MAX_FRETS, given=frets))
        # What lies on no neck at all is told all the same.
        frets = MAX_FRETS
    faults += hand.faults
    highest = highest_position(frets, USUAL_HAND if hand.faults else hand)
    faults += [
        message("map.position_off_neck", position=one, highest=highest)
        for one in (position, *((second.position,) if second else ()))
        if not 1 <= one <= highest
    ]
    for sounding, place in choices.items():
        where = {"string": place.string, "fret": place.fret}
        if not (1 <= place.string <= len(tuning.open_strings) and 0 <= place.fret <= frets):
            faults.append(message("map.place_off_neck", **where, frets=frets))
        elif tuning.sounding(place) != sounding:
            faults.append(message("map.place_of_other_pitch", **where, sounds=tuning.sounding(place), pitch=sounding))
    return faults
