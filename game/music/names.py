"""Names of notes in the player's own language, and the keys that name them.

English letters, the fixed do of the Romance languages, and German, where B natural is H and B flat is B (trade).
"""

from dataclasses import dataclass
from enum import Enum

from game.music.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Spelling:
    """A letter with its accidental, without the octave: what `letters` asks for."""

    step: str
    alter: int


class NoteNames(Enum):
    """How the player calls the notes."""

    ENGLISH = "C D E"
    SOLFEGE = "do re mi"
    GERMAN = "C D E … H"


_SOLFEGE = {"C": "do", "D": "re", "E": "mi", "F": "fa", "G": "sol", "A": "la", "B": "si"}
_SIGNS = {-2: "♭♭", -1: "♭", 0: "", 1: "♯", 2: "♯♯"}
# The keys of do re mi: first letters, but i for si, for s is taken by sol.
_SOLFEGE_KEYS = {"d": "C", "r": "D", "m": "E", "f": "F", "s": "G", "l": "A", "i": "B"}
_GERMAN_EXCEPTIONS = {
    Spelling("B", 0): "H", Spelling("B", -1): "B", Spelling("B", -2): "Heses",
    Spelling("E", -1): "Es", Spelling("A", -1): "As", Spelling("E", -2): "Eses", Spelling("A", -2): "Asas",
}  # fmt: skip
_GERMAN_ENDINGS = {-2: "eses", -1: "es", 0: "", 1: "is", 2: "isis"}


def spelling_of(pitch: Pitch) -> Spelling:
    """The pitch without its octave."""
    return Spelling(pitch.step, pitch.alter)


def name_in(spelling: Spelling, names: NoteNames) -> str:
    """How a note is called, with musical signs: "F♯", "fa♯", "Fis"."""
    if names is NoteNames.SOLFEGE:
        return _SOLFEGE[spelling.step] + _SIGNS[spelling.alter]
    if names is NoteNames.ENGLISH:
        return spelling.step + _SIGNS[spelling.alter]
    if spelling in _GERMAN_EXCEPTIONS:
        return _GERMAN_EXCEPTIONS[spelling]
    letter = "H" if spelling.step == "B" else spelling.step
    return letter + _GERMAN_ENDINGS[spelling.alter]


def step_for_key(key: str, names: NoteNames) -> Spelling | None:
    """What a letter key means in the player's language, before any accidental: German b is already B flat."""
    key = key.lower()
    if names is NoteNames.SOLFEGE:
        return Spelling(_SOLFEGE_KEYS[key], 0) if key in _SOLFEGE_KEYS else None
    if names is NoteNames.GERMAN and key in ("h", "b"):
        return Spelling("B", 0 if key == "h" else -1)
    return Spelling(key.upper(), 0) if len(key) == 1 and key in "cdefgab" else None


def keys_of(names: NoteNames) -> tuple[tuple[str, str], ...]:
    """The letter keys and the names they give, from do upwards: for the line that explains them."""
    if names is NoteNames.SOLFEGE:
        return tuple((key, _SOLFEGE[step]) for key, step in _SOLFEGE_KEYS.items())
    letters = "CDEFGAH" if names is NoteNames.GERMAN else "CDEFGAB"
    return tuple((letter.lower(), letter) for letter in letters)
