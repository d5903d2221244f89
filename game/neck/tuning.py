"""Tunings and places.

String 1 is the highest-sounding string, fret 0 the open string (MusicXML 4.0 `string`, `fret`).
"""

from dataclasses import dataclass

from game.errors import MapError
from game.message import Message, message, verbatim

MAX_FRETS = 30
DEFAULT_FRETS = 22


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A string (1 is the highest-sounding) and a fret (0 is open)."""

    string: int
    fret: int


@dataclass(frozen=True, slots=True)
class Tuning:
    """`open_strings` are MIDI numbers, string 1 first."""

    name: str
    open_strings: tuple[int, ...]

    @property
    def told(self) -> Message:
        """What people call it: by name where it is one of the table, else by its numbers."""
        return message(f"settings.tuning.{self.name}") if self.name in TUNINGS else verbatim(self.name)

    def sounding(self, place: Place) -> int:
        """MIDI number at a place."""
        return self.open_strings[place.string - 1] + place.fret

    def places_of(self, sounding: int, frets: int) -> tuple[Place, ...]:
        """Every place of a pitch on a neck with `frets` frets, string 1 first."""
        return tuple(
            Place(string, sounding - open_string)
            for string, open_string in enumerate(self.open_strings, start=1)
            if 0 <= sounding - open_string <= frets
        )


# Trade facts; standard tuning is MIDI 40 45 50 55 59 64 from string 6 up.
STANDARD = Tuning("standard", (64, 59, 55, 50, 45, 40))
TUNINGS = {
    tuning.name: tuning
    for tuning in (
        STANDARD,
        Tuning("drop-d", (64, 59, 55, 50, 45, 38)),
        Tuning("half-step-down", (63, 58, 54, 49, 44, 39)),
        Tuning("whole-step-down", (62, 57, 53, 48, 43, 38)),
        Tuning("dadgad", (62, 57, 55, 50, 45, 38)),
        Tuning("open-g", (62, 59, 55, 50, 43, 38)),
    )
}


def tuning_named(name: str) -> Tuning:
    """A tuning of the table by its name, or six MIDI numbers from string 6 to string 1 ("40 45 50 55 59 64").

    Raises `MapError` for anything else.
    """
    if name in TUNINGS:
        return TUNINGS[name]
    try:
        numbers = tuple(int(word) for word in name.replace(",", " ").split())
    except ValueError:
        numbers = ()
    if len(numbers) != 6 or not all(12 <= number <= 100 for number in numbers):
        raise MapError("map.unknown_tuning", given=name, tunings=tuple(TUNINGS))
    return Tuning(name, numbers[::-1])
