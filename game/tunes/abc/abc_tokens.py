"""A line of ABC music cut into its signs, by the ABC standard 2.1. Every pattern is matched once, from left to
right over a bounded stretch: no line, however strange, takes longer than its length.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from game.errors import TuneError

_LENGTH = r"(\d*)(/*)(\d*)"
_NOTE = re.compile(r"(\^\^|\^|__|_|=)?([A-Ga-g])([,']*)" + _LENGTH + r"(-?)")
_REST = re.compile(r"([zxZX])" + _LENGTH)
_TUPLET = re.compile(r"\((\d)(?::(\d*))?(?::(\d*))?")
_FIELD = re.compile(r"\[([A-Za-z]):([^\]]{0,200})\]")
_TEXT = re.compile(r'"([^"]*)"?')
# Spaces only in instructions ("D.C. al Fine"): else a lone "!" ended a line of music in older text.
_WORDS = r"(?:D\.?\s?[CS]\.|Da |Dal |Al |To )"
# Older text (ABC 1.6) has notes at once between plus signs; what could be both is one of these loudnesses.
_OLD_CHORD = r"(?:[\^_=]{0,2}[A-Ga-g][,']{0,4}[\d/]{0,6}-?\s*){2,8}"
_DECORATION = re.compile(
    rf"!({_WORDS}[^!|\[\]]{{1,40}}|[^!|\[\]\s]{{1,40}})!"
    rf"|\+({_WORDS}[^+|\[\]]{{1,40}}|[^+|\[\]\s]{{1,40}}|{_OLD_CHORD})\+",
    re.IGNORECASE,
)
_LOUDNESS = frozenset({"ff", "fff", "ffff"})
# Words and decorations stand among the notes of a chord or of grace notes.
_NOT_NOTES = re.compile(r'"([^"]*)"|![^!]*!|\+[^+]*\+')
_GRACES = re.compile(r"\{([^}]{0,200})\}?")
_CHORD = re.compile(r"\[([^\]|]{0,200})\]" + _LENGTH + r"(-?)")
_BAR = re.compile(r"\.?(\[?(?:\|\]?|:)+)(?:\[?(\d[\d,.\-]{0,20}))?|\[(\d[\d,.\-]{0,20})")
_BROKEN = re.compile(r">+|<+")
# Where a second voice over several bars begins, and where it ends.
_LONG_OVERLAY = ("(&", "&)")
# Signs of one letter that steer the order of play (ABC 2.1); the others are ornaments.
_LETTER_SIGNS = {"S": "segno", "O": "coda"}
_MAX_DIGITS = 4
_ALTERS = {"": None, "^^": 2, "^": 1, "__": -2, "_": -1, "=": 0}


@dataclass(frozen=True, slots=True)
class NoteToken:
    """A note as written: `alter` None without an accidental, `octave` as in C4 = middle C, `length` in units."""

    alter: int | None
    step: str
    octave: int
    length: Fraction
    tied: bool


@dataclass(frozen=True, slots=True)
class ChordToken:
    """Notes at once; their lengths include that of the chord. `texts` are the words in quotes among them."""

    notes: tuple[NoteToken, ...]
    texts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RestToken:
    """A rest of `length` units, or of `bars` whole bars where that is not 0."""

    length: Fraction
    bars: int


@dataclass(frozen=True, slots=True)
class GraceToken:
    """Grace notes before the note that follows."""

    notes: tuple[NoteToken, ...]


@dataclass(frozen=True, slots=True)
class TupletToken:
    """`actual` notes in the time of `normal` (0 where the metre decides), for `covers` notes."""

    actual: int
    normal: int
    covers: int


@dataclass(frozen=True, slots=True)
class BrokenRhythmToken:
    """A `>` (positive) or `<` (negative), as many times as written."""

    count: int


@dataclass(frozen=True, slots=True)
class BarLineToken:
    """A bar line with its repeat signs, and the numbers of an ending that starts after it ("1,3")."""

    text: str
    ending: str
    dotted: bool = False


@dataclass(frozen=True, slots=True)
class TextToken:
    """Text in quotes: a chord symbol, or an annotation with its sign of place before it."""

    text: str


@dataclass(frozen=True, slots=True)
class DecorationToken:
    """A named sign between exclamation marks, or one of the letters that stand for it."""

    name: str


@dataclass(frozen=True, slots=True)
class FieldToken:
    """An inline field."""

    letter: str
    value: str


@dataclass(frozen=True, slots=True)
class OtherToken:
    """Any other sign: `&` starts a second voice on top (over several bars between `(&` and `&)`), `-` ties, the rest
    are ornaments or unknown.
    """

    sign: str


Token = (
    NoteToken
    | ChordToken
    | RestToken
    | GraceToken
    | TupletToken
    | BrokenRhythmToken
    | BarLineToken
    | TextToken
    | DecorationToken
    | FieldToken
    | OtherToken
)


def tokens_of(line: str, number: int) -> Iterator[Token]:
    """The signs of one line of music; `number` is the line's, for the messages. Raises `TuneError`."""
    at = 0
    while at < len(line):
        found = _token_at(line, at, number)
        if found is None:
            if not line[at].isspace():
                yield OtherToken(line[at])
            at += 1
            continue
        sign, at = found
        yield sign


def _token_at(line: str, at: int, number: int) -> tuple[Token, int] | None:  # noqa: C901, PLR0911 - one branch a sign
    mark = line[at]
    if mark in "ABCDEFGabcdefg^_=" and (found := _NOTE.match(line, at)):
        return _note(found, number), found.end()
    if mark in "zxZX" and (found := _REST.match(line, at)):
        return _silence(found, number), found.end()
    if mark == '"' and (found := _TEXT.match(line, at)):
        return TextToken(found[1]), found.end()
    if mark in "!+" and (found := _DECORATION.match(line, at)):
        return _decoration(found, number), found.end()
    if mark == "{" and (found := _GRACES.match(line, at)):
        return GraceToken(_notes_in(found[1], number)), found.end()
    if mark == "(" and (found := _TUPLET.match(line, at)):
        return _tuplet(found), found.end()
    if line.startswith(_LONG_OVERLAY, at):
        return OtherToken(line[at : at + 2]), at + 2
    if mark in "<>" and (found := _BROKEN.match(line, at)):
        return BrokenRhythmToken(len(found[0]) * (1 if mark == ">" else -1)), found.end()
    if mark == "[" and (found := _FIELD.match(line, at)):
        return FieldToken(found[1], found[2].strip()), found.end()
    if mark in "|[:." and (found := _BAR.match(line, at)) and _is_bar(found):
        return BarLineToken(found[1] or "", found[2] or found[3] or "", dotted=mark == "."), found.end()
    if mark == "[" and (found := _CHORD.match(line, at)):
        return _chord(found, number), found.end()
    if mark in _LETTER_SIGNS:
        return DecorationToken(_LETTER_SIGNS[mark]), at + 1
    return None


def _decoration(found: re.Match[str], number: int) -> Token:
    name = found[1] or found[2]
    if found[2] and name not in _LOUDNESS and re.fullmatch(_OLD_CHORD, name):
        return _together(_notes_in(name, number), Fraction(1), name, tied=False)
    return DecorationToken(name)


def _is_bar(found: re.Match[str]) -> bool:
    """A single colon is no bar line."""
    return bool(found[3]) or "|" in (found[1] or "") or "::" in (found[1] or "")


def _notes_in(text: str, number: int) -> tuple[NoteToken, ...]:
    return tuple(_note(found, number) for found in _NOTE.finditer(_NOT_NOTES.sub(" ", text)))


def _note(found: re.Match[str], number: int) -> NoteToken:
    sign, letter, marks, *length, tie = found.groups()
    octave = (4 if letter.isupper() else 5) + marks.count("'") - marks.count(",")
    if not 0 <= octave <= 9:
        raise TuneError("abc.note_out_of_octaves", line=number, note=found[0][:20])
    return NoteToken(_ALTERS[sign or ""], letter.upper(), octave, _length(length, number), bool(tie))


def _chord(found: re.Match[str], number: int) -> Token:
    notes = _notes_in(found[1], number)
    if not notes:
        return OtherToken(found[0][:1])
    factor = _length([found[2], found[3], found[4]], number)
    return _together(notes, factor, found[1], tied=bool(found[5]))


def _together(notes: tuple[NoteToken, ...], factor: Fraction, inside: str, *, tied: bool) -> ChordToken:
    """The length of notes at once is that of the first (ABC 2.1)."""
    length = notes[0].length * factor
    together = (NoteToken(note.alter, note.step, note.octave, length, note.tied or tied) for note in notes)
    return ChordToken(tuple(together), tuple(words for words in _NOT_NOTES.findall(inside) if words))


def _silence(found: re.Match[str], number: int) -> RestToken:
    length = _length([found[2], found[3], found[4]], number)
    if found[1] in "zx":
        return RestToken(length, 0)
    return RestToken(Fraction(0), max(1, int(length)))


def _length(parts: list[str], number: int) -> Fraction:
    """`3`, `/`, `//`, `3/2`: in units of the default length."""
    over, slashes, under = parts
    below = int(under or "2") if slashes and len(under) <= _MAX_DIGITS else 1
    if len(over) > _MAX_DIGITS or len(under) > _MAX_DIGITS or len(slashes) > _MAX_DIGITS or below == 0:
        shown = f"{over[:8]}{slashes[:8]}{under[:8]}"
        raise TuneError("abc.unknown_note_length", line=number, length=shown)
    if slashes and not under:
        below = 2 ** len(slashes)
    length = Fraction(int(over or "1"), below)
    if length == 0:
        raise TuneError("abc.note_of_no_length", line=number)
    return length


def _tuplet(found: re.Match[str]) -> TupletToken:
    actual = int(found[1])
    normal = int((found[2] or "0")[:2])
    covers = int((found[3] or "0")[:2]) or actual
    # `(1` and `(0` are no tuplets.
    return TupletToken(actual, normal, covers) if actual > 1 else TupletToken(1, 1, 0)
