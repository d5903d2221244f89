"""Our own compact form of a Score: JSON, short arrays, exact fractions as text ("7/2"), with a version.

It is what the reading process answers, and what the library keeps beside the original file. `pack` and
`unpack` are opposites.
"""

import re
from dataclasses import fields
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeAlias, get_type_hints

import msgspec

from game.errors import TuneError
from game.message import VERBATIM, Message, from_plain, to_plain, verbatim
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch, pitch
from game.music.score import (
    NO_MARKS,
    Bar,
    BarMarks,
    Event,
    Note,
    NoteValue,
    OrderDoubt,
    Reading,
    Rest,
    Score,
    Tuplet,
)
from game.text.catalogue import readable

VERSION = 2
"""2 where sentences are messages. In 1 they are text that stands as it is: the English of programs of before."""

_FRACTION = re.compile(r"-?\d{1,18}(/[1-9]\d{0,17})?", re.ASCII)


_Sentence: TypeAlias = str | dict[str, Any]
"""A message in JSON, or text that stands as it is, "" for none."""


_NOTE = get_type_hints(Note)
_IN_PLACE = {"onset", "length", "value", "pitch", "tied_to_next", "tied_from_previous", "grace"}

_LATER = {field.name: field.default for field in fields(Note) if field.name not in _IN_PLACE}
"""The fields of a notehead that have no place of their own in its row, with what they usually are."""
_DOUBTS = tuple(doubt.value for doubt in OrderDoubt)


class _Event(msgspec.Struct, array_like=True, omit_defaults=True):
    onset: Fraction
    length: Fraction
    base: Fraction
    dots: int = 0
    tuplet: tuple[int, int, bool, bool] | None = None
    pitch: str = ""
    tied_to_next: bool = False
    tied_from_previous: bool = False
    grace: bool = False
    whole_bar: bool = False


class _Chord(msgspec.Struct, array_like=True, omit_defaults=True):
    onset: Fraction
    root: str
    kind: str
    text: str
    bass: str = ""


class _Bar(msgspec.Struct, array_like=True):
    number: str
    beats: int
    unit: int
    fifths: int
    minor: bool
    length: Fraction
    pickup: bool
    events: list[_Event]
    chords: list[_Chord]
    marks: dict[str, Any] | None


class _Score(msgspec.Struct, omit_defaults=True):
    version: int
    title: str
    composer: str
    part: str
    file_format: str
    reading: Reading
    octave_reason: _Sentence
    swung: bool | None
    warnings: tuple[_Sentence, ...]
    bars: list[_Bar]
    sound_fixed: bool = False
    feel: str = ""
    later: dict[str, dict[str, Any]] = {}
    """What noteheads have of the fields that came later; see `_unlike_usual`."""


def pack(score: Score) -> bytes:
    """The compact form of `score`, UTF-8 JSON."""
    return _ENCODER.encode(
        _Score(
            version=VERSION if _holds_messages(score) else 1,
            title=score.title,
            composer=score.composer,
            part=score.part,
            file_format=score.file_format,
            reading=score.reading,
            octave_reason=_packed_sentence(score.octave_reason) if score.octave_reason else "",
            swung=score.swung,
            warnings=tuple(_packed_sentence(warning) for warning in score.warnings),
            bars=[_packed_bar(bar) for bar in score.bars],
            sound_fixed=score.sound_fixed,
            feel=score.feel,
            later=_unlike_usual(score),
        )
    )


def unpack(packed: bytes) -> Score:
    """The Score that `pack` was given. Raises `TuneError` when `packed` is damaged or of a later version."""
    try:
        form = _DECODER.decode(packed)
        if form.version > VERSION:
            raise TuneError("tune.kept_by_newer", form=form.version, known=VERSION)
        later = {where: _later(packed) for where, packed in form.later.items()}
        bars = tuple(_bar(bar, at, later) for at, bar in enumerate(form.bars))
        octave_reason = _sentence(form.octave_reason) if form.octave_reason else None
        warnings = tuple(_sentence(warning) for warning in form.warnings)
    except (msgspec.MsgspecError, ValueError) as fault:
        raise TuneError("tune.kept_form_damaged", fault=fault) from fault
    return Score(
        title=form.title,
        composer=form.composer,
        part=form.part,
        file_format=form.file_format,
        reading=form.reading,
        octave_reason=octave_reason,
        sound_fixed=form.sound_fixed,
        swung=form.swung,
        feel=form.feel,
        warnings=warnings,
        bars=bars,
    )


def _holds_messages(score: Score) -> bool:
    said = (*((score.octave_reason,) if score.octave_reason else ()), *score.warnings)
    return any(one.key != VERBATIM for one in said)


def _packed_sentence(said: Message) -> _Sentence:
    return str(dict(said.values)["text"]) if said.key == VERBATIM else to_plain(said)


def _sentence(packed: _Sentence) -> Message:
    """Raises `ValueError` for what is no message."""
    return verbatim(packed) if isinstance(packed, str) else readable(from_plain(packed))


def _packed_bar(bar: Bar) -> _Bar:
    return _Bar(
        number=bar.number,
        beats=bar.meter.beats,
        unit=bar.meter.unit,
        fifths=bar.key.fifths,
        minor=bar.key.minor,
        length=bar.length,
        pickup=bar.pickup,
        events=[_packed_event(event) for event in bar.events],
        chords=[
            _Chord(onset=chord.onset, root=chord.root, kind=chord.kind, text=chord.text, bass=chord.bass)
            for chord in bar.chords
        ],
        marks=None if bar.marks == NO_MARKS else _set_in(bar.marks),
    )


def _packed_event(event: Event) -> _Event:
    value = event.value
    tuplet = value.tuplet
    packed = _Event(
        onset=event.onset,
        length=event.length,
        base=value.base,
        dots=value.dots,
        tuplet=(tuplet.actual, tuplet.normal, tuplet.starts, tuplet.stops) if tuplet else None,
    )
    if isinstance(event, Rest):
        packed.whole_bar = event.whole_bar
        return packed
    packed.pitch = event.pitch.name
    packed.tied_to_next, packed.tied_from_previous = event.tied_to_next, event.tied_from_previous
    packed.grace = event.grace
    return packed


def _bar(bar: _Bar, number: int, later: dict[str, dict[str, Any]]) -> Bar:
    return Bar(
        number=bar.number,
        meter=_meter(bar.beats, bar.unit),
        key=_key(bar.fifths, bar.minor),
        length=bar.length,
        pickup=bar.pickup,
        events=tuple(_event(event, later.get(f"{number}.{at}", {})) for at, event in enumerate(bar.events)),
        chords=tuple(
            ChordSymbol(onset=chord.onset, root=chord.root, kind=chord.kind, text=chord.text, bass=chord.bass)
            for chord in bar.chords
        ),
        marks=NO_MARKS if bar.marks is None else _marks(bar.marks),
    )


def _event(event: _Event, later: dict[str, Any]) -> Event:
    value = _value(event.base, event.dots, event.tuplet)
    if not event.pitch:
        return Rest(onset=event.onset, length=event.length, value=value, whole_bar=event.whole_bar)
    return Note(
        onset=event.onset,
        length=event.length,
        value=value,
        pitch=_pitch(event.pitch),
        tied_to_next=event.tied_to_next,
        tied_from_previous=event.tied_from_previous,
        grace=event.grace,
        **later,
    )


def _unlike_usual(score: Score) -> dict[str, dict[str, Any]]:
    """What noteheads have of the fields that came later, by bar and event: "3.0" is the first of the fourth bar."""
    found = {
        f"{bar}.{at}": {name: getattr(event, name) for name, usual in _LATER.items() if getattr(event, name) != usual}
        for bar, of_bar in enumerate(score.bars)
        for at, event in enumerate(of_bar.events)
        if _LATER and isinstance(event, Note)
    }
    return {where: later for where, later in found.items() if later}


def _later(packed: dict[str, Any]) -> dict[str, Any]:
    """The fields of a notehead that came later. Raises `ValidationError` for what they cannot be; what a newer program
    knows is passed over.
    """
    return {name: msgspec.convert(value, _NOTE[name]) for name, value in packed.items() if name in _LATER}


def _set_in(marks: BarMarks) -> dict[str, Any]:
    """The signs that a bar bears; one it may bear from now on is kept without another line here."""
    told = {field.name: getattr(marks, field.name) for field in fields(marks)}
    return {name: value for name, value in told.items() if value != getattr(NO_MARKS, name)}


def _marks(packed: dict[str, Any]) -> BarMarks:
    """The signs of a bar. Doubts of the order of play that a newer program knows are passed over."""
    chosen = packed.get("read_otherwise", ())
    known = [doubt for doubt in chosen if doubt in _DOUBTS] if isinstance(chosen, list) else chosen
    return msgspec.convert({**packed, "read_otherwise": known}, BarMarks)


@lru_cache(maxsize=512)
def _value(base: Fraction, dots: int, tuplet: tuple[int, int, bool, bool] | None) -> NoteValue:
    if tuplet is None:
        return NoteValue(base=base, dots=dots)
    actual, normal, starts, stops = tuplet
    return NoteValue(base=base, dots=dots, tuplet=Tuplet(actual=actual, normal=normal, starts=starts, stops=stops))


@lru_cache(maxsize=256)
def _pitch(name: str) -> Pitch:
    return pitch(name)


@lru_cache(maxsize=64)
def _key(fifths: int, minor: bool) -> Key:
    return Key(fifths, minor=minor)


@lru_cache(maxsize=64)
def _meter(beats: int, unit: int) -> Meter:
    return Meter(beats, unit)


@lru_cache(maxsize=4096)
def _fraction(text: str) -> Fraction:
    if not _FRACTION.fullmatch(text):
        raise ValueError(f"no such fraction: {text[:40]!r}")
    return Fraction(text)


def _encode_hook(value: Any) -> str:
    if isinstance(value, Fraction):
        return str(value)
    raise NotImplementedError(f"no compact form for {type(value).__name__}")


def _decode_hook(wanted: type, value: Any) -> Any:
    if wanted is Fraction and isinstance(value, str):
        return _fraction(value)
    raise ValueError(f"no fraction: {value!r}")


_ENCODER = msgspec.json.Encoder(enc_hook=_encode_hook)
_DECODER = msgspec.json.Decoder(_Score, dec_hook=_decode_hook)
