"""An ABC file as text: its tunes, their headers, and the lines of music of the voice that is to be read.

By the ABC standard 2.1: a tune begins with `X:`, its header ends with `K:`, an empty line ends it; `V:` begins
a voice. Nothing here is ever taken for a path or an address.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from game.errors import SeveralTunesError, TuneError
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_TEXT_BYTES
from game.tunes.part_names import default_name, parts_listed
from game.tunes.sandbox.tune_source import TuneSource

_FIELD = re.compile(r"([A-Za-z+]):(?![|:])(.*)")
# Whatever letter it has, a capital with a colon is a field in the music too ("G:|" is a note and a bar line). Of the
# small letters only these are: the others may be notes.
_BODY_FIELDS = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZmrsw+")
_BEGINS_TEXT, _ENDS_TEXT = re.compile(r"%%\s*begin(text|ps|svg)\b"), re.compile(r"%%\s*end(text|ps|svg)\b")
_BEGINS = frozenset("XTMLK")
_INLINE_VOICE = re.compile(r"\[V:([^\]]{0,200})\]")
_ACCENTS = {"'": "\u0301", "`": "\u0300", "^": "\u0302", '"': "\u0308", "~": "\u0303", ",": "\u0327", "c": "\u0327"}
_ACCENTED = re.compile(r"\\(['`^\"~,c])([A-Za-z])")
_NAME = re.compile(r"(?:name|nm)\s*=\s*\"([^\"]*)\"")
MAX_TUNES = 5_000
# What a header before the first tune says for all of them.
_FOR_ALL = frozenset({"M", "L", "R", "C", "%%"})


@dataclass(frozen=True, slots=True, kw_only=True)
class AbcTune:
    """One tune of a file. `header` holds its fields in order, those of the file's own header first; `body` the
    lines after `K:`, comments taken off, each with its number in the file.
    """

    header: tuple[tuple[str, str], ...]
    body: tuple[tuple[int, str], ...]

    def field(self, letter: str) -> str:
        """The value of a header field: where it stands several times the last, of titles the first; "" without one."""
        values = [value for name, value in self.header if name == letter]
        return (values[0] if letter == "T" else values[-1]) if values else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AbcVoice:
    """One voice of a tune: its name, what its `V:` fields say, and its lines of music."""

    name: str
    properties: str
    lines: tuple[tuple[int, str], ...]


def abc_tunes(source: TuneSource) -> tuple[AbcTune, ...]:
    """The tunes of a file in order. Raises `TuneError` when it is too large or holds none."""
    if len(source.content) > MAX_TEXT_BYTES:
        raise TuneError("abc.too_large", file=source.name, limit_mb=MAX_TEXT_BYTES // 1_000_000)
    tunes = tuple(_TuneSplitter().tunes(_lines(source.content)))
    if not tunes:
        raise TuneError("abc.no_tune", file=source.name)
    if len(tunes) > MAX_TUNES:
        raise TuneError("abc.too_many_tunes", file=source.name, count=len(tunes), limit=MAX_TUNES)
    return tunes


class _TuneSplitter:
    """Walks the lines of a file, in the header of a tune, in its music, or between tunes."""

    def __init__(self) -> None:
        self._of_file: list[tuple[str, str]] = []
        self._header: list[tuple[str, str]] | None = None
        self._body: list[tuple[int, str]] | None = None
        self._in_text = False

    def tunes(self, lines: list[str]) -> Iterator[AbcTune]:
        for number, line in enumerate(lines, start=1):
            if self._is_text(line):
                continue
            field = _FIELD.match(line)
            letter = field[1] if field else ""
            if self._body is not None and (letter == "X" or not line.strip()):
                yield self._finished_tune()
            if self._body is not None:
                self._body.append((number, _music(line)))
            elif self._header is None and letter in _BEGINS:
                self._take_field(letter, line[2:])
            elif self._header is not None:
                self._take_header(letter, line)
        if self._body is not None:
            yield self._finished_tune()

    def _is_text(self, line: str) -> bool:
        """Whether the line belongs to words or drawings to be printed, from a directive that begins them to its end."""
        if self._in_text:
            self._in_text = _ENDS_TEXT.match(line) is None
            return True
        self._in_text = _BEGINS_TEXT.match(line) is not None
        return self._in_text

    def _take_header(self, letter: str, line: str) -> None:
        header = self._header or []
        numbered = any(name == "X" for name, _ in header)
        if letter == "X" and numbered:
            # A header without a key is no tune.
            self._header = None
        elif not line.strip() and not numbered:
            self._of_file += [field for field in header if field[0] in _FOR_ALL]
            self._header = None
        if letter:
            self._take_field(letter, line[2:])
        elif line.startswith("%%") and self._header is not None:
            self._header.append(("%%", line[2:].strip()))

    def _take_field(self, letter: str, value: str) -> None:
        self._header = [*(self._header or []), (letter, _value(value))]
        if letter == "K":
            self._body = []

    def _finished_tune(self) -> AbcTune:
        tune = AbcTune(header=(*self._of_file, *(self._header or [])), body=tuple(self._body or []))
        self._header = self._body = None
        return tune


def chosen_tune(tunes: tuple[AbcTune, ...], part: int | None, file_name: str) -> AbcTune:
    """The tune with that number, counted from 1 in the order of the file.

    Raises `SeveralTunesError` when there are several and none was chosen, `TuneError` for a number too high.
    """
    titles = tuple(title_of(tune) or default_name("tune", number) for number, tune in enumerate(tunes, start=1))
    if part is None and len(tunes) > 1:
        raise SeveralTunesError(
            "abc.several_tunes", file=file_name, count=len(tunes), tunes=parts_listed(titles), names=titles
        )
    part = 1 if part is None else part
    if not 1 <= part <= len(tunes):
        listed = parts_listed(titles)
        raise TuneError("abc.no_such_tune", file=file_name, count=len(tunes), tunes=listed, number=part)
    return tunes[part - 1]


def voices_of(tune: AbcTune) -> tuple[AbcVoice, ...]:
    """The voices that hold music, in order; music before any `V:` belongs to the first."""
    said: dict[str, str] = {}
    lines: dict[str, list[tuple[int, str]]] = {}
    for letter, value in tune.header:
        if letter == "V":
            voice, properties = _voice(value)
            said[voice] = f"{said.get(voice, '')} {properties}"
    before: list[tuple[int, str]] = []
    current: list[tuple[int, str]] = before
    for number, line in tune.body:
        pieces = _INLINE_VOICE.split(line) if "[V:" in line else [line]
        field = body_field(line)
        if field and field[0] == "V":
            pieces = ["", field[1]]
        for index, piece in enumerate(pieces):
            if index % 2:
                voice, properties = _voice(piece)
                said[voice] = f"{said.get(voice, '')} {properties}"
                current = lines.setdefault(voice, before if not lines else [])
            elif piece.strip() or len(pieces) == 1:
                current.append((number, piece))
    if not lines:
        lines[next(iter(said), "")] = before
    voices = [
        AbcVoice(name=_voice_name(voice, said.get(voice, "")), properties=said.get(voice, ""), lines=tuple(kept))
        for voice, kept in lines.items()
    ]
    playing = [voice for voice in voices if any(_plays(line) for _, line in voice.lines)]
    return tuple(playing or voices[:1])


def title_of(tune: AbcTune) -> str:
    """Its first title; may be empty."""
    return readable(tune.field("T"))


def readable(text: str) -> str:
    """Text of a field for people: backslash accents composed, control characters gone."""
    composed = _ACCENTED.sub(lambda found: found[2] + _ACCENTS[found[1]], text)
    return cleaned(unicodedata.normalize("NFC", composed).replace("\\", ""))


def body_field(line: str) -> tuple[str, str] | None:
    """The letter and value of a field that takes up a line between the music; None for a line of music."""
    field = _FIELD.match(line)
    return (field[1], field[2].strip()) if field and field[1] in _BODY_FIELDS else None


def _lines(content: bytes) -> list[str]:
    content = content.removeprefix(b"\xef\xbb\xbf")
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _value(text: str) -> str:
    return text.partition("%")[0].strip()


def _music(line: str) -> str:
    """Without its comment; a directive keeps its words, marked as such."""
    return line if line.startswith("%%") else line.partition("%")[0]


def _voice(value: str) -> tuple[str, str]:
    name, _, properties = value.strip().partition(" ")
    return cleaned(name, 40), properties


def _voice_name(voice: str, properties: str) -> str:
    named = _NAME.search(properties)
    return readable(named[1]) if named and readable(named[1]) else voice


def _plays(line: str) -> bool:
    return body_field(line) is None and not line.startswith("%%") and any(letter in line for letter in "ABCDEFGabcdefg")
