"""The map: one home on the neck for each sounding pitch, never two.

A position puts the first finger at fret P and the fourth at P+3. One fret more is a stretch: P-1 with the first
finger reaching back, P+4 with the fourth reaching on. In standard tuning position V then runs from A♭2 to C♯5 sounding
with every semitone (trade, calc: see the tests). Where both stretches give the same pitch the first finger reaches
back, unless the player chose otherwise.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import lru_cache

from game.errors import MapError
from game.message import Message, message
from game.music.score import Reading
from game.neck.tuning import DEFAULT_FRETS, MAX_FRETS, STANDARD, Place, Tuning

DEFAULT_POSITION = 5
_FINGER_SPAN = 4
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
class NeckMap:
    """The chosen places for one position, tuning, number of frets and reading octave. Make it with `standard_map`.

    `homes` are in order of pitch. `choices` are the places the player chose by hand, by sounding pitch.
    """

    position: int
    tuning: Tuning
    frets: int
    reading: Reading
    homes: tuple[Home, ...]
    choices: Mapping[int, Place] = field(default_factory=dict)

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

    def with_choice(self, place: Place) -> "NeckMap":
        """The same map with `place` as the home of the pitch it sounds. Any place of the neck will do."""
        choices = {**self.choices, self.tuning.sounding(place): place}
        return standard_map(
            position=self.position, tuning=self.tuning, frets=self.frets, reading=self.reading, choices=choices
        )

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


def standard_map(
    *,
    position: int = DEFAULT_POSITION,
    tuning: Tuning = STANDARD,
    frets: int = DEFAULT_FRETS,
    reading: Reading = Reading.GUITAR,
    choices: Mapping[int, Place] | None = None,
) -> NeckMap:
    """The map of a position.

    `position` is 1 to `frets` - 3; `frets` 4 to 30. `choices` overrule homes or add outlying ones, by sounding
    pitch; each place must sound the pitch it stands for. Raises `MapError` with all faults at once.
    """
    return _standard_map(position, tuning, frets, reading, tuple((choices or {}).items()))


@lru_cache(maxsize=_KEPT_MAPS)
def _standard_map(
    position: int, tuning: Tuning, frets: int, reading: Reading, chosen: tuple[tuple[int, Place], ...]
) -> NeckMap:
    choices = dict(chosen)
    faults = _faults(position, tuning, frets, choices)
    if faults:
        raise MapError("faults", faults=faults)
    lowest, highest = _reach_frets(position)
    by_pitch: dict[int, Place] = {}
    for fret in _frets_by_preference(position):
        if fret > frets:
            continue
        for string in range(len(tuning.open_strings), 0, -1):
            by_pitch.setdefault(tuning.sounding(Place(string, fret)), Place(string, fret))
    by_pitch.update(choices)
    homes = tuple(
        Home(sounding=sounding, place=place, reach=_reach(place.fret, position, lowest, highest))
        for sounding, place in sorted(by_pitch.items())
    )
    return NeckMap(position=position, tuning=tuning, frets=frets, reading=reading, homes=homes, choices=choices)


def roman(position: int) -> str:
    """A position as guitarists write it: 5 is "V"."""
    text = ""
    for value, letters in ((10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I")):
        while position >= value:
            text += letters
            position -= value
    return text


def _reach_frets(position: int) -> tuple[int, int]:
    """Lowest and highest fret of a position with its stretches."""
    return position - 1, position + _FINGER_SPAN


def _frets_by_preference(position: int) -> tuple[int, ...]:
    """Frets in the order in which they may claim a pitch: under the fingers first, then reaching back, then on.

    In position I the open strings come first: they cost no finger, and the open B is everybody's B3 (trade).
    """
    under_fingers = tuple(range(position, position + _FINGER_SPAN))
    back, on = _reach_frets(position)
    return (0, *under_fingers, on) if position == 1 else (*under_fingers, back, on)


def _reach(fret: int, position: int, lowest: int, highest: int) -> Reach:
    if position <= fret < position + _FINGER_SPAN or (fret == 0 and position == 1):
        return Reach.IN_POSITION
    return Reach.STRETCH if fret in (lowest, highest) else Reach.OUTLYING


def _faults(position: int, tuning: Tuning, frets: int, choices: Mapping[int, Place]) -> list[Message]:
    if not _FINGER_SPAN <= frets <= MAX_FRETS:
        return [message("map.frets_out_of_range", fewest=_FINGER_SPAN, most=MAX_FRETS, given=frets)]
    faults = []
    highest = frets - _FINGER_SPAN + 1
    if not 1 <= position <= highest:
        faults.append(message("map.position_off_neck", position=position, highest=highest))
    for sounding, place in choices.items():
        where = {"string": place.string, "fret": place.fret}
        if not (1 <= place.string <= len(tuning.open_strings) and 0 <= place.fret <= frets):
            faults.append(message("map.place_off_neck", **where, frets=frets))
        elif tuning.sounding(place) != sounding:
            faults.append(message("map.place_of_other_pitch", **where, sounds=tuning.sounding(place), pitch=sounding))
    return faults
