"""Chord symbols above the staff."""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ChordSymbol:
    """One chord symbol.

    `onset` is in quarter notes from the start of its bar. `root` and `bass` are ASCII letter names ("Bb", bass may
    be empty); `kind` is MusicXML's `kind-value` ("minor-seventh"); `text` is what the page shows, ASCII signs
    ("Gm7", "Bb7/D").
    """

    onset: Fraction
    root: str
    kind: str
    text: str
    bass: str = ""
