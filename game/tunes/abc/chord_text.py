"""Chord symbols out of plain text ("Am7", "Bb7/D", "C-7", "F#m7b5"), as ABC has them between quotes.

Read by our own table: the usual ways of writing each kind (trade). What is no chord symbol is None.
"""

import re
from fractions import Fraction

from game.music.chords import ChordSymbol
from game.tunes.musicxml.harmony import SHORT_FORMS, ascii_signs

_SYMBOL = re.compile(r"([A-G])(bb|##|b|#)?([^/]{0,16})(?:/([A-Ga-g](?:b|#|\+)?))?")
_OTHER_FORMS = {
    "M": "major", "Maj": "major", "-": "minor", "min": "minor", "mi": "minor", "aug": "augmented",
    "o": "diminished", "7+": "augmented-seventh", "7#5": "augmented-seventh", "aug7": "augmented-seventh",
    "+7": "augmented-seventh", "M7": "major-seventh", "Maj7": "major-seventh", "ma7": "major-seventh",
    "j7": "major-seventh", "^7": "major-seventh", "^": "major-seventh", "-7": "minor-seventh",
    "min7": "minor-seventh", "mi7": "minor-seventh", "o7": "diminished-seventh", "dim7": "diminished-seventh",
    "-7b5": "half-diminished", "min7b5": "half-diminished", "m7(b5)": "half-diminished", "0": "half-diminished",
    "+5": "augmented", "#5": "augmented", "m(ma7)": "major-minor", "mi(ma7)": "major-minor",
    "mi(maj7)": "major-minor", "m(M7)": "major-minor", "mi7b5": "half-diminished", "mi7(b5)": "half-diminished",
    "ma9": "major-ninth", "ma6": "major-sixth", "ma13": "major-13th", "mi6": "minor-sixth", "mi9": "minor-ninth",
    "mi11": "minor-11th", "maj": "major", "ma": "major", "min7(b5)": "half-diminished",
    "mM7": "major-minor", "mmaj7": "major-minor", "-(maj7)": "major-minor",
    "M6": "major-sixth", "maj6": "major-sixth", "-6": "minor-sixth", "min6": "minor-sixth",
    "6/9": "major-sixth", "69": "major-sixth", "M9": "major-ninth", "Maj9": "major-ninth", "-9": "minor-ninth",
    "min9": "minor-ninth", "sus": "suspended-fourth", "-11": "minor-11th", "-13": "minor-13th", "M13": "major-13th",
}  # fmt: skip
_KINDS = {short: kind for kind, short in SHORT_FORMS.items() if kind not in {"none", "other", "Tristan"}} | _OTHER_FORMS
# A seventh or more with altered or added tones, or a suspended one: the kind is its seventh.
_ALTERED = re.compile(r"(m(?:aj)?|-|M|)(6|7|9|11|13)?((?:\(?(?:b|#|\+|-|add|no|sus|alt|,)*\d{0,2}\)?){1,4})")


def chord_of(text: str, onset: Fraction) -> ChordSymbol | None:
    """The chord symbol in `text`, shown as it is written there in ASCII; None when it is none."""
    words = ascii_signs(text.strip())
    if words in {"N.C.", "NC", "N.C"}:
        return ChordSymbol(onset=onset, root="", kind="none", text="N.C.")
    if words.endswith("6/9"):
        words = words.removesuffix("6/9") + "69"
    found = _SYMBOL.fullmatch(words)
    if found is None:
        return None
    letter, sign, quality, low = found.groups(default="")
    # Older text has the bass in small letters, and a plus for its sharp ("D/f+").
    bass = low[:1].upper() + low[1:].replace("+", "#")
    kind = _KINDS.get(quality) or _altered_kind(quality)
    if kind is None:
        return None
    text = words.removesuffix(f"/{low}") + (f"/{bass}" if bass else "")
    return ChordSymbol(onset=onset, root=letter + sign, kind=kind, text=text, bass=bass)


def _altered_kind(quality: str) -> str | None:
    found = _ALTERED.fullmatch(quality)
    if found is None or not (found[2] or "add" in quality or "sus" in quality or "no" in quality or "alt" in quality):
        return None
    if "sus" in quality:
        return "suspended-second" if "sus2" in quality else "suspended-fourth"
    if not found[2]:
        return "dominant" if "alt" in quality else "minor" if found[1] in {"m", "-"} else "major"
    return _KINDS.get(found[1] + found[2], "dominant")
