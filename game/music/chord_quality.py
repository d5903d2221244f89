"""The tones of a chord symbol as degrees above its root: what its kind says, and what its text alters, adds or
leaves out ("7(b9)", "m7b5", "9sus", "6/9", "no3").

Kinds are the `kind-value` of MusicXML 4.0 and the further names of the chord table of music21, whose tones these are,
but for the Neapolitan: a handbook's is the major triad on the flat second (mem). A kind without a line here, and
"other", are read from the text alone.
"""

import re

from game.music.chords import ChordSymbol

Degrees = dict[int, tuple[int, ...]]
"""Semitones above the root by degree: a ninth is 14, and both ninths of 7(b9,#9) stand under 9. A suspended chord has
its tone under 2 or 4, a sixth chord under 6.
"""

_NATURAL = {1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 11, 9: 14, 11: 17, 13: 21}
_SIGNS = {"": 0, "b": -1, "bb": -2, "#": 1, "-": -1, "+": 1}

_TONES_OF_KINDS = {
    "major": "1 3 5",
    "minor": "1 b3 5",
    "augmented": "1 3 #5",
    "diminished": "1 b3 b5",
    "dominant": "1 3 5 b7",
    "dominant-seventh": "1 3 5 b7",
    "major-seventh": "1 3 5 7",
    "minor-seventh": "1 b3 5 b7",
    "diminished-seventh": "1 b3 b5 bb7",
    "augmented-seventh": "1 3 #5 b7",
    "augmented-major-seventh": "1 3 #5 7",
    "half-diminished": "1 b3 b5 b7",
    "half-diminished-seventh": "1 b3 b5 b7",
    "seventh-flat-five": "1 3 b5 b7",
    "major-minor": "1 b3 5 7",
    "minor-major": "1 b3 5 7",
    "minor-major-seventh": "1 b3 5 7",
    "major-sixth": "1 3 5 6",
    "minor-sixth": "1 b3 5 6",
    "maj69": "1 3 5 6 9",
    "dominant-ninth": "1 3 5 b7 9",
    "major-ninth": "1 3 5 7 9",
    "minor-ninth": "1 b3 5 b7 9",
    "minor-major-ninth": "1 b3 5 7 9",
    "augmented-ninth": "1 3 #5 b7 9",
    "augmented-dominant-ninth": "1 3 #5 b7 9",
    "augmented-major-ninth": "1 3 #5 7 9",
    "half-diminished-ninth": "1 b3 b5 b7 9",
    "half-diminished-minor-ninth": "1 b3 b5 b7 b9",
    "diminished-ninth": "1 b3 b5 bb7 9",
    "diminished-minor-ninth": "1 b3 b5 bb7 b9",
    "dominant-11th": "1 3 5 b7 9 11",
    "major-11th": "1 3 5 7 9 11",
    "minor-11th": "1 b3 5 b7 9 11",
    "minor-major-11th": "1 b3 5 7 9 11",
    "augmented-11th": "1 3 #5 b7 9 11",
    "augmented-major-11th": "1 3 #5 7 9 11",
    "half-diminished-11th": "1 b3 b5 b7 9 11",
    "diminished-11th": "1 b3 b5 bb7 9 11",
    "dominant-13th": "1 3 5 b7 9 11 13",
    "major-13th": "1 3 5 7 9 11 13",
    "minor-13th": "1 b3 5 b7 9 11 13",
    "minor-major-13th": "1 b3 5 7 9 11 13",
    "augmented-dominant-13th": "1 3 #5 b7 9 11 13",
    "augmented-major-13th": "1 3 #5 7 9 11 13",
    "half-diminished-13th": "1 b3 b5 b7 9 11 13",
    "suspended-second": "1 2 5",
    "suspended-fourth": "1 4 5",
    "suspended-fourth-seventh": "1 4 5 b7",
    "power": "1 5",
    "pedal": "1",
    # Named by function, with the key's own first degree for a root; a tone stands where the voicing looks for it.
    "Neapolitan": "b2 4 b6",
    "Italian": "1 #4 b6",
    "French": "1 2 #4 b6",
    "German": "1 b3 #4 b6",
    "Tristan": "1 #2 #4 #6",
}

_QUALITY = re.compile(
    r"(?P<word>maj|min|dim|aug|sus|add|omit|alt|ma|mi|no|ø|j|\^|o)"
    r"|(?P<case>[Mm])"
    r"|(?P<sign>bb|[b#+-])?(?P<number>13|11|[2-79])"
    r"|(?P<mark>[+-])",
    re.IGNORECASE,
)
_SUSPENDED = {3: (2, 4), 2: (3, 4), 4: (2, 3)}


def degrees_of(symbol: ChordSymbol) -> Degrees:
    """The degrees of a chord symbol; empty where no chord is to sound (N.C.)."""
    if not symbol.root or symbol.kind == "none":
        return {}
    quality = quality_text(symbol)
    named = _TONES_OF_KINDS.get(symbol.kind)
    reading = _Reading(_degrees(named) if named else _from_text(symbol.kind, quality))
    reading.read(quality)
    return reading.degrees


def quality_text(symbol: ChordSymbol) -> str:
    """What stands between the letter and the bass: "m7b5" of "Bm7b5/F"; empty where the text is of another chord."""
    if not symbol.text.startswith(symbol.root):
        return ""
    text = symbol.text.removeprefix(symbol.root)
    return text.removesuffix(f"/{symbol.bass}") if symbol.bass else text


def _degrees(names: str) -> Degrees:
    tones: Degrees = {}
    for name in names.split():
        number = int(name.lstrip("b#"))
        tones[number] = (_NATURAL[number] + _SIGNS[name.removesuffix(str(number))],)
    return tones


def _from_text(kind: str, quality: str) -> Degrees:
    """The triad under a text. An "other" kind is all added tones (MusicXML 4.0), which stand in brackets."""
    if kind == "other" and "(" in quality:
        return _degrees("1")
    if quality == "5":
        return _degrees("1 5")
    if re.match(r"ø|m(?:in?)?7?\(?b5", quality):
        return _degrees("1 b3 b5 b7")
    if re.match(r"dim|o", quality, re.IGNORECASE):
        return _degrees("1 b3 b5")
    if re.match(r"aug|\+(?!\d)|\+7", quality, re.IGNORECASE):
        return _degrees("1 3 #5")
    return _degrees("1 b3 5" if re.match(r"m(?!aj|a\d)|-|min|mi", quality) else "1 3 5")


class _Reading:
    """The tones of a kind while the text beside it is read from left to right."""

    def __init__(self, degrees: Degrees) -> None:
        self.degrees = degrees
        self._major_seventh = self._adds = self._leaves_out = self._suspends = False

    def read(self, quality: str) -> None:
        """Take in a whole text."""
        for found in _QUALITY.finditer(quality):
            if found["number"]:
                self._number(found["sign"] or "", int(found["number"]), at_start=found.start() == 0)
            elif found["mark"] == "+":
                self._augment()
            elif found["word"] or found["case"] == "M":
                self._word((found["word"] or "maj").lower())

    def _word(self, word: str) -> None:
        self._suspends = False
        if word in {"maj", "ma", "j", "^"}:
            self._major_seventh = True
        elif word == "aug":
            self._augment()
        elif word in {"add", "no", "omit"}:
            self._adds, self._leaves_out = word == "add", word != "add"
        elif word == "alt":
            self.degrees |= _degrees("#5 b7") | {9: (13, 15)}
        elif word == "sus":
            self._suspends = True
            if 2 not in self.degrees:
                self._suspend(4)

    def _augment(self) -> None:
        self.degrees[5] = (8,)

    def _suspend(self, by: int) -> None:
        for other in _SUSPENDED[by]:
            self.degrees.pop(other, None)
        self.degrees[by] = (_NATURAL[by],)

    def _number(self, sign: str, number: int, *, at_start: bool) -> None:
        if at_start and sign in {"+", "-"} and number != 5:
            # "C-7" is minor, and "C+7" augmented: the sign is not the seventh's.
            if sign == "+":
                self._augment()
            sign = ""
        suspends, self._suspends = self._suspends, False
        if self._leaves_out:
            self.degrees.pop(number, None)
            self._leaves_out = False
        elif sign:
            self._altered(sign, number)
        elif number in (2, 4) and not self._adds:
            self._second_or_fourth(number, suspends=suspends)
        else:
            self._natural({2: 9, 4: 11}.get(number, number))

    def _altered(self, sign: str, number: int) -> None:
        number = {2: 9, 4: 11, 6: 13}.get(number, number)
        # A seventh is called natural or sharp alike where it is the major one ("m#7").
        base = 11 if number == 7 and sign in {"#", "+"} else _NATURAL[number] + _SIGNS[sign]
        before = self.degrees.get(number, ())
        # Two alterations of one tone both sound; the natural one gives way.
        self.degrees[number] = (*(tone for tone in before if tone not in (base, _NATURAL[number])), base)

    def _second_or_fourth(self, number: int, *, suspends: bool) -> None:
        """A number after "sus"; a bare "4" is short for that (mem), a bare "2" adds a tone (mem)."""
        if suspends or number == 4:
            self._suspend(number)
        else:
            self.degrees.setdefault(9, (_NATURAL[9],))

    def _natural(self, number: int) -> None:
        if number > 7 and not self._adds:
            self._stack(number)
        if number == 7:
            self._seventh()
        else:
            self.degrees.setdefault(number, (_NATURAL[number],))

    def _stack(self, number: int) -> None:
        """A ninth or more holds its seventh without saying so, unless it is a six-nine."""
        if 6 not in self.degrees:
            self._seventh()
        if number == 13:
            self.degrees.setdefault(9, (_NATURAL[9],))

    def _seventh(self) -> None:
        diminished = self.degrees.get(3) == (3,) and self.degrees.get(5) == (6,)
        flat = 11 if self._major_seventh or self._adds else 9 if diminished else 10
        self.degrees.setdefault(7, (flat,))
