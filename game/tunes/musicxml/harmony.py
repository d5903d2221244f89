"""Chord symbols from MusicXML's structured root and kind, never from their text (music21 misreads Bb7, C-7,
Bm7b5).

Kinds and their meaning are the `kind-value` of MusicXML 4.0. The text on the page is the file's own where it
gives one, else our short form.
"""

from fractions import Fraction
from xml.etree.ElementTree import Element

from game.music.chords import ChordSymbol
from game.text.clean_text import cleaned
from game.tunes.musicxml.bar_times import BarTimes, bar_times

# Short forms in plain ASCII, as lead sheets commonly have them (trade).
SHORT_FORMS = {
    "major": "",
    "minor": "m",
    "augmented": "+",
    "diminished": "dim",
    "dominant": "7",
    "major-seventh": "maj7",
    "minor-seventh": "m7",
    "diminished-seventh": "dim7",
    "augmented-seventh": "+7",
    "half-diminished": "m7b5",
    "major-minor": "m(maj7)",
    "major-sixth": "6",
    "minor-sixth": "m6",
    "dominant-ninth": "9",
    "major-ninth": "maj9",
    "minor-ninth": "m9",
    "dominant-11th": "11",
    "major-11th": "maj11",
    "minor-11th": "m11",
    "dominant-13th": "13",
    "major-13th": "maj13",
    "minor-13th": "m13",
    "suspended-second": "sus2",
    "suspended-fourth": "sus4",
    "power": "5",
    "pedal": "ped",
    "none": "N.C.",
    "Neapolitan": "N6",
    "Italian": "It6",
    "French": "Fr6",
    "German": "Ger6",
    "Tristan": "Tristan",
    "other": "",
}
_SIGNS = {-2: "bb", -1: "b", 0: "", 1: "#", 2: "##"}
ASCII = str.maketrans({"♭": "b", "♯": "#", "−": "-", "–": "-", "Δ": "maj", "△": "maj", "ø": "m7b5", "°": "dim"})
_MOST_A_BAR = 32


def chords_of(part: Element) -> tuple[tuple[ChordSymbol, ...], ...]:
    """The chord symbols of each bar of a checked part, in order, onsets in quarter notes from the start of
    the bar.
    """
    return tuple(_bar_chords(bar) for bar in bar_times(part))


def _bar_chords(bar: BarTimes) -> tuple[ChordSymbol, ...]:
    chords = []
    for now, divisions, element in bar.elements:
        if element.tag == "harmony":
            chord = _chord(element, max(now + _offset(element) / divisions, Fraction(0)))
            if chord:
                chords.append(chord)
    return tuple(sorted(chords[:_MOST_A_BAR], key=lambda chord: chord.onset))


def _offset(harmony: Element) -> Fraction:
    words = cleaned(harmony.findtext("offset"), 20)
    return Fraction(int(words)) if words.lstrip("-").isdecimal() and len(words) < 9 else Fraction(0)


def _chord(harmony: Element, onset: Fraction) -> ChordSymbol | None:
    """The symbol, or None when it has no root we can name (a function such as V, or a number)."""
    kind_element = harmony.find("kind")
    kind = cleaned(kind_element.text if kind_element is not None else "") or "major"
    if kind == "none":
        return ChordSymbol(onset=onset, root="", kind=kind, text="N.C.")
    root = _letter(harmony, "root")
    if not root:
        return None
    bass = _letter(harmony, "bass")
    return ChordSymbol(onset=onset, root=root, kind=kind, text=_text(harmony, kind_element, root, bass), bass=bass)


def _letter(harmony: Element, which: str) -> str:
    step = cleaned(harmony.findtext(f"{which}/{which}-step"), 2).upper()
    alter = cleaned(harmony.findtext(f"{which}/{which}-alter"), 6) or "0"
    if len(step) != 1 or step not in "ABCDEFG":
        return ""
    try:
        return step + _SIGNS[int(float(alter))]
    except (ValueError, KeyError, OverflowError):
        return ""


def _text(harmony: Element, kind: Element | None, root: str, bass: str) -> str:
    named = kind is not None and kind.get("text") is not None
    own_text = cleaned(kind.get("text"), 20).translate(ASCII) if kind is not None else ""
    short_form = SHORT_FORMS.get(cleaned(kind.text), "") if kind is not None else ""
    quality = own_text if named else short_form
    return root + quality + _degrees(harmony) + (f"/{bass}" if bass else "")


def _degrees(harmony: Element) -> str:
    """Altered, added and left-out tones in brackets: "(b9)", "(add9)", "(no3)"."""
    tones = []
    for degree in harmony.findall("degree")[:6]:
        if degree.get("print-object") == "no":
            continue
        number = cleaned(degree.findtext("degree-value"), 2)
        alter = cleaned(degree.findtext("degree-alter"), 3)
        sign = {"-1": "b", "1": "#", "+1": "#"}.get(alter, "")
        kind = cleaned(degree.findtext("degree-type"), 10)
        word = {"subtract": "no", "add": "" if sign else "add"}.get(kind, "")
        if number.isdecimal():
            tones.append(f"{word}{sign}{number}")
    return f"({','.join(tones)})" if tones else ""
