"""A chord symbol from MusicXML's structured root and kind, never from its text (music21 misreads Bb7, C-7, Bm7b5).

Kinds and their meaning are the `kind-value` of MusicXML 4.0. The text on the page is the file's own where it gives
one, else our short form; altered and added tones stand after it in brackets, unless it names them already.
"""

import re
from fractions import Fraction
from xml.etree.ElementTree import Element

from game.music.chords import ChordSymbol
from game.text.clean_text import cleaned

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
# Signs of chord symbols in ASCII; the private ones are those of music fonts (SMuFL, and one in wide use before it).
_ASCII = str.maketrans(
    {
        "♭": "b", "♯": "#", "\ue260": "b", "\ue262": "#", "\ue10d": "b", "\ue10c": "#", "−": "-", "–": "-",
        "Δ": "maj", "△": "maj", "ø": "m7b5", "Ø": "m7b5", "°": "dim",
    }
)  # fmt: skip
_LONGEST_KIND = 60
_HALF_DIMINISHED = re.compile(r"[øØ]7")
# "Go" and "Do7" are words: the letter stands for the circle of diminished chords where a program could not set it.
_CIRCLE_AS_LETTER = re.compile(r"^[oO0](?=7?$)")
# A sign before a number; at the beginning a minus is that of the minor and a plus makes all of it augmented.
_TONE = re.compile(r"(?:([b#]|(?<!^)[+-]|[+-](?=5)))?(\d{1,2})")
_SIGN_OF_TONE = {"b": "b", "-": "b", "#": "#", "+": "#"}
_NO_TONE = re.compile(r"(?:no|omit) ?(\d{1,2})")
# What a ninth, an eleventh or a thirteenth holds without saying so.
_OCTAVE_OF_STEPS = 7
_STACKED = ("7", "9", "11", "13")


def chord_of_harmony(harmony: Element, onset: Fraction) -> ChordSymbol | None:
    """The symbol, or None when it has no root we can name (a numeral of the key, or a function such as V)."""
    kind_element = harmony.find("kind")
    kind = cleaned(kind_element.text if kind_element is not None else "") or "major"
    if kind == "none":
        return ChordSymbol(onset=onset, root="", kind=kind, text="N.C.")
    root = _letter(harmony, "root")
    if not root:
        return None
    bass = _letter(harmony, "bass")
    return ChordSymbol(onset=onset, root=root, kind=kind, text=_text(harmony, kind_element, root, bass), bass=bass)


def ascii_signs(text: str) -> str:
    """The text of a chord symbol with its signs in ASCII: flats, sharps, triangles and circles."""
    return _HALF_DIMINISHED.sub("ø", text).translate(_ASCII)


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
    own_text = cleaned(ascii_signs((kind.get("text") or "")[:_LONGEST_KIND]), 20) if kind is not None else ""
    if kind is not None and cleaned(kind.text).startswith("diminished"):
        own_text = _CIRCLE_AS_LETTER.sub("dim", own_text)
    short_form = SHORT_FORMS.get(cleaned(kind.text), "") if kind is not None else ""
    quality = own_text if named else short_form
    return root + quality + _degrees(harmony, quality) + (f"/{bass}" if bass else "")


def _degrees(harmony: Element, quality: str) -> str:
    """What `quality` does not name of altered, added and left-out tones, in brackets: "(b9)", "(add9)", "(no3)"."""
    tones = []
    for degree in harmony.findall("degree")[:6]:
        if degree.get("print-object") == "no":
            continue
        number = cleaned(degree.findtext("degree-value"), 2)
        sign = {"-1": "b", "1": "#", "+1": "#"}.get(cleaned(degree.findtext("degree-alter"), 3), "")
        kind = cleaned(degree.findtext("degree-type"), 10)
        if not number.isdecimal() or _named_in(quality, sign, number, left_out=kind == "subtract"):
            continue
        word = {"subtract": "no", "add": "" if sign else "add"}.get(kind, "")
        tones.append(f"{word}{sign}{number}")
    return f"({','.join(tones)})" if tones else ""


def _named_in(quality: str, sign: str, number: str, *, left_out: bool) -> bool:
    """Whether the text says of a tone already that it is altered, added or left out: "7b9", "7-9", "9sus", "alt"."""
    if left_out:
        return number in _NO_TONE.findall(quality) or (number == "3" and "sus" in quality)
    if sign:
        by_word = {"#5": ("+", "aug"), "b5": ("dim",)}.get(sign + number, ())
        altered = "alt" in quality and number != "7"
        return altered or (sign, number) in _tones_of(quality) or any(word in _unnumbered(quality) for word in by_word)
    return any(("", same) in _tones_of(quality) for same in (number, str(int(number) - _OCTAVE_OF_STEPS)))


def _tones_of(quality: str) -> set[tuple[str, str]]:
    """The tones a text names, each with its sign "b", "#" or ""; a sus is the fourth, a 13 the 7, 9 and 11 as well."""
    tones = {
        (_SIGN_OF_TONE.get(sign, ""), number)
        for sign, number in _TONE.findall(_NO_TONE.sub("", quality).replace("6/9", "6,9").replace("69", "6,9"))
    }
    if "sus" in quality and ("", "2") not in tones:
        tones.add(("", "4"))
    stacked = [_STACKED.index(number) for sign, number in tones if not sign and number in _STACKED]
    if stacked and "add" not in quality:
        tones |= {("", number) for number in _STACKED[: max(stacked)]}
    return tones


def _unnumbered(quality: str) -> str:
    """The text without its altered tones: what is left says "+", "aug" or "dim" of the whole chord."""
    return re.sub(r"(?:[b#]|(?<!^)[+-]|[+-](?=5))\d{1,2}", "", quality)
