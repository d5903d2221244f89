"""Tunings and places.

String 1 is the highest-sounding string, fret 0 the open string (MusicXML 4.0 `string`, `fret`).
"""

from dataclasses import dataclass
from typing import Final

from game.errors import MapError
from game.message import Message, message, verbatim
from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.neck.open_strings import HIGHEST_OPEN, LOWEST_OPEN, numbers_of

MAX_FRETS = 30
DEFAULT_FRETS = 22
INLAYS: Final = (3, 5, 7, 9, 12, 15, 17, 19, 21, 24)
"""Frets that most necks mark (trade)."""

FEWEST_STRINGS: Final = 4
MOST_STRINGS: Final = 8
HIGHEST_CAPO: Final = 11
"""Hardly a neck is left behind it (trade: seldom above VII)."""


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
    def strings(self) -> int:
        """How many strings the instrument has."""
        return len(self.open_strings)

    @property
    def told(self) -> Message:
        """What people call it: by name where it is one of the table, else by its notes from the lowest string up."""
        if self.name in TUNINGS:
            return message(f"settings.tuning.{self.name}")
        return verbatim(" ".join(note_name(sounding) for sounding in reversed(self.open_strings)))

    def raised(self, semitones: int) -> "Tuning":
        """The same strings so many semitones higher, as behind a capo."""
        raised = tuple(sounding + semitones for sounding in self.open_strings)
        return self if semitones == 0 else Tuning(_numbers(raised), raised)

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


def note_name(sounding: int) -> str:
    """A MIDI number as a note with its octave, as tunings are written: "B♭1"."""
    spelling = spelled(sounding, Key(0))
    return f"{name_in(spelling_of(spelling), NoteNames.ENGLISH)}{spelling.octave}"


def _numbers(open_strings: tuple[int, ...]) -> str:
    return " ".join(map(str, reversed(open_strings)))


# Trade facts; standard tuning is MIDI 40 45 50 55 59 64 from string 6 up. Names are never changed: they stand in
# settings, logs and assignments.
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
        Tuning("open-d", (62, 57, 54, 50, 45, 38)),
        Tuning("open-e", (64, 59, 56, 52, 47, 40)),
        Tuning("open-a", (64, 61, 57, 52, 45, 40)),
        Tuning("open-c", (64, 60, 55, 48, 43, 36)),
        Tuning("double-drop-d", (62, 59, 55, 50, 45, 38)),
        Tuning("drop-c", (62, 57, 53, 48, 43, 36)),
        Tuning("all-fourths", (65, 60, 55, 50, 45, 40)),
        Tuning("baritone", (59, 54, 50, 45, 40, 35)),
        Tuning("seven-string", (64, 59, 55, 50, 45, 40, 35)),
        Tuning("seven-string-drop-a", (64, 59, 55, 50, 45, 40, 33)),
        Tuning("eight-string", (64, 59, 55, 50, 45, 40, 35, 30)),
        Tuning("bass", (43, 38, 33, 28)),
        Tuning("bass-drop-d", (43, 38, 33, 26)),
        Tuning("bass-five", (43, 38, 33, 28, 23)),
        Tuning("bass-six", (48, 43, 38, 33, 28, 23)),
    )
}
_USUAL = {
    TUNINGS[name].strings: TUNINGS[name].open_strings
    for name in ("bass", "bass-five", "standard", "seven-string", "eight-string")
}
"""By how many strings: letters without an octave are taken near these."""


def tuning_named(name: str) -> Tuning:
    """A tuning of the table by its name ("drop-d", "Drop D"), or four to eight open strings from the lowest up.

    Strings are notes with their octaves, middle C being C4 ("D2 A2 D3 G3 A3 D4"), letters alone, which are taken near
    the usual tuning of as many strings ("DADGAD", "Eb Ab Db Gb Bb Eb"), or MIDI numbers ("38 45 50 55 57 62"). What is
    a tuning of the table is that one, another is named by its numbers. Raises `MapError`, which says what is wrong.
    """
    by_name = TUNINGS.get("-".join(name.casefold().replace("_", " ").replace("-", " ").split()))
    if by_name is not None:
        return by_name
    words = numbers_of(name, _USUAL)
    if isinstance(words, str):
        raise MapError("map.unknown_tuning", given=name, word=words, tunings=tuple(TUNINGS))
    if not FEWEST_STRINGS <= len(words) <= MOST_STRINGS:
        raise MapError("map.tuning_strings", given=name, count=len(words), fewest=FEWEST_STRINGS, most=MOST_STRINGS)
    for word, number in words:
        if not LOWEST_OPEN <= number <= HIGHEST_OPEN:
            lowest, highest = (note_name(end) for end in (LOWEST_OPEN, HIGHEST_OPEN))
            raise MapError("map.tuning_out_of_range", given=name, word=word, lowest=lowest, highest=highest)
    open_strings = tuple(number for _, number in reversed(words))
    return next(
        (tuning for tuning in TUNINGS.values() if tuning.open_strings == open_strings),
        Tuning(_numbers(open_strings), open_strings),
    )
