"""What a take shows of the map: where a note that was misread would have been played.

The homes of its written notes are known. For other pitches the position is told from these homes, and where several
positions fit each counts alike.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from game.judging.causes.cause_numbers import CAUSE_NUMBERS, CauseNumbers
from game.neck.neck_map import DEFAULT_POSITION, Home, Reach, standard_map
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Place, Tuning

_HIGHEST_POSITION = DEFAULT_FRETS - 3
_FINGERS = 4


@dataclass(frozen=True, slots=True)
class TakeMap:
    """`homes` by sounding pitch; `open_strings` are MIDI numbers, string 1 first; `maps` give the places by sounding
    pitch in each position that fits, none where no home tells the position.
    """

    homes: Mapping[int, Place]
    open_strings: tuple[int, ...]
    maps: tuple[Mapping[int, Place], ...]

    def chance_at(self, sounding: int, place: Place | None, numbers: CauseNumbers = CAUSE_NUMBERS) -> float:
        """How likely somebody who means `sounding` plays it at `place`. 1 where places are not known."""
        if place is None:
            return 1.0
        home = self.homes.get(sounding)
        if home is not None:
            return numbers.misread_at_home if home == place else numbers.misread_elsewhere
        if not self.maps:
            return 0.5
        at_home = sum(places.get(sounding) == place for places in self.maps) / len(self.maps)
        return numbers.misread_elsewhere + at_home * (numbers.misread_at_home - numbers.misread_elsewhere)

    def string_over(self, string: int, strings: int) -> int | None:
        """How many semitones the string `strings` over gives more at the same fret; None where there is no such one."""
        other = string + strings
        if not (1 <= string <= len(self.open_strings) and 1 <= other <= len(self.open_strings)):
            return None
        return self.open_strings[other - 1] - self.open_strings[string - 1]


def take_map(homes: Iterable[Home | None]) -> TakeMap:
    """The map as the homes of a take's notes show it."""
    by_pitch = {home.sounding: home for home in homes if home is not None}
    open_strings = _open_strings(by_pitch.values())
    return TakeMap(
        homes={sounding: home.place for sounding, home in by_pitch.items()},
        open_strings=open_strings,
        maps=tuple(_places(position, open_strings) for position in _positions(by_pitch.values())),
    )


def _open_strings(homes: Iterable[Home]) -> tuple[int, ...]:
    """The tuning; strings without a home in the take are taken to be tuned as usual."""
    open_strings = list(STANDARD.open_strings)
    for home in homes:
        if home.place.string <= len(open_strings):
            open_strings[home.place.string - 1] = home.sounding - home.place.fret
    return tuple(open_strings)


def _positions(homes: Iterable[Home]) -> tuple[int, ...]:
    """The positions in which every home would be reached as it is."""
    fits: set[int] | None = None
    for home in homes:
        if home.reach is not Reach.OUTLYING:
            here = _positions_reaching(home.place.fret, home.reach)
            fits = here if fits is None else fits & here
    return tuple(sorted(fits or (), key=lambda position: abs(position - DEFAULT_POSITION)))


def _positions_reaching(fret: int, reach: Reach) -> set[int]:
    if fret == 0:
        return {1}
    if reach is Reach.STRETCH:
        return {fret + 1, fret - _FINGERS} & set(range(1, _HIGHEST_POSITION + 1))
    return set(range(max(1, fret - _FINGERS + 1), min(fret, _HIGHEST_POSITION) + 1))


@lru_cache(maxsize=64)
def _places(position: int, open_strings: tuple[int, ...]) -> Mapping[int, Place]:
    return standard_map(position=position, tuning=Tuning("", open_strings)).places
