"""A MIDI file taken apart: notes by track and channel, metres, keys. Standard MIDI File 1.1, read with mido.

Positions are in quarter notes as the file counts them; a file that counts in film frames is taken at the default
tempo. Hostile files end early: their size is capped, and their notes are counted before anything is made of them.
"""

import io
import re
from collections import defaultdict
from dataclasses import dataclass, field
from typing import Any

import mido

from game.errors import TuneError
from game.message import Message, message
from game.music.keys import Key
from game.music.meter import MAX_BEATS, UNITS, Meter
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_BARS, MAX_NOTES, MAX_TEXT_BYTES
from game.tunes.part_names import channel_name, default_name
from game.tunes.sandbox.tune_source import TuneSource
from game.tunes.section_words import section_in

DRUMS = 9
# Standard MIDI File 1.1: without a tempo, 120 quarter notes a minute.
_DEFAULT_QUARTER_S = 0.5
_MAX_QUARTERS = MAX_BARS * 16
_MAX_MESSAGES = 100_000
# mido reads a variable-length number however long it is, in quadratic time. Four bytes are the longest there are, and
# no text a tune has a use for is such a run.
_ENDLESS_NUMBER = re.compile(rb"[\x80-\xff]{4096}")
# SMF 1.1: such a number has at most 28 bits.
_MOST_TICKS = 0x0FFF_FFFF
_FIFTHS_OF_NAME = {Key(fifths, minor=minor).name: (fifths, minor) for fifths in range(-7, 8) for minor in (False, True)}


@dataclass(frozen=True, slots=True, order=True)
class MidiNote:
    """One note: from `start` to `end` in quarter notes, `midi` its number."""

    start: float
    end: float
    midi: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MidiPart:
    """The notes of one channel of one track, in order; `program` is its General MIDI sound, None if unsaid."""

    name: str
    notes: tuple[MidiNote, ...]
    program: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ParsedMidi:
    """A file taken apart. `meters`, `keys` and `sections` (markers that name one) are (quarter note, sign) in order,
    possibly none; `ticks` are those of a quarter note.
    """

    title: str
    ticks: float
    parts: tuple[MidiPart, ...]
    meters: tuple[tuple[float, Meter], ...]
    keys: tuple[tuple[float, Key], ...]
    sections: tuple[tuple[float, str], ...] = ()
    warnings: tuple[Message, ...] = ()


@dataclass(slots=True)
class _FileState:
    """What the tracks have given so far."""

    meters: dict[float, Meter] = field(default_factory=dict)
    keys: dict[float, Key] = field(default_factory=dict)
    sections: dict[float, str] = field(default_factory=dict)
    notes: int = 0
    messages: int = 0
    odd_meter: bool = False


def parse_midi(source: TuneSource) -> ParsedMidi:
    """Take a MIDI file apart. Raises `TuneError` when it is broken, too long or holds no notes."""
    if len(source.content) > MAX_TEXT_BYTES:
        raise TuneError("midi.too_large", file=source.name, limit_mb=MAX_TEXT_BYTES // 1_000_000)
    file = _opened(source)
    ticks = _ticks_a_quarter(file, source.name)
    state, parts = _FileState(), []
    for number, track in enumerate(file.tracks, start=1):
        parts += _parts_of(track, number, ticks, state, source.name)
    if max(len(state.meters), len(state.keys), len(state.sections)) > MAX_BARS:
        raise TuneError("midi.too_many_changes", file=source.name, limit=MAX_BARS)
    if not parts:
        raise TuneError("midi.no_notes", file=source.name)
    warnings = (message("tune.metre_left_out"),) if state.odd_meter else ()
    return ParsedMidi(
        title=_title(file),
        ticks=ticks,
        parts=tuple(parts),
        meters=tuple(sorted(state.meters.items(), key=lambda pair: pair[0])),
        keys=tuple(sorted(state.keys.items(), key=lambda pair: pair[0])),
        sections=tuple(sorted(state.sections.items(), key=lambda pair: pair[0])),
        warnings=warnings,
    )


def _opened(source: TuneSource) -> Any:
    if _ENDLESS_NUMBER.search(source.content):
        raise TuneError("midi.endless_number", file=source.name)
    try:
        return mido.MidiFile(file=io.BytesIO(source.content), clip=True)
    except Exception as fault:
        # mido raises what happens to go wrong inside it: EOFError, IndexError, its own errors of key signatures.
        if isinstance(fault, EOFError):
            raise TuneError("midi.ends_too_early", file=source.name) from fault
        reason = cleaned(str(fault), 60) or type(fault).__name__
        raise TuneError("midi.broken", file=source.name, reason=reason) from fault


def _ticks_a_quarter(file: Any, name: str) -> float:
    division = int(file.ticks_per_beat)
    if division > 0:
        return float(division)
    frames, per_frame = -(division >> 8), division & 0xFF
    if frames <= 0 or per_frame == 0:
        raise TuneError("midi.no_ticks", file=name)
    return frames * per_frame * _DEFAULT_QUARTER_S


def _parts_of(track: Any, number: int, ticks: float, state: _FileState, name: str) -> list[MidiPart]:
    now, found = 0, _TrackNotes()
    for sent in track:
        state.messages += 1
        now += _waited(sent, name)
        # Whole numbers before the division: a broken file may count further than a float reaches.
        if state.messages > _MAX_MESSAGES or now > _MAX_QUARTERS * ticks:
            raise TuneError("midi.too_long", file=name)
        at = now / ticks
        if not found.take(sent, at):
            _take_sign(sent, at, state)
        if state.notes + found.begun > MAX_NOTES:
            raise TuneError("midi.too_many_notes", file=name, limit=MAX_NOTES)
    state.notes += found.begun
    return found.parts(number, now / ticks)


class _TrackNotes:
    """What sounds in one track, channel by channel; `begun` counts its notes."""

    def __init__(self) -> None:
        self.begun = 0
        self._name = ""
        self._sounding: dict[tuple[int, int], list[float]] = defaultdict(list)
        self._notes: dict[int, list[MidiNote]] = defaultdict(list)
        self._programs: dict[int, int] = {}

    def take(self, sent: Any, at: float) -> bool:
        """Whether a message, at so many quarter notes, is of the notes or says by what they are played."""
        kind = sent.type
        if kind in {"note_on", "note_off"} and sent.channel != DRUMS:
            # A note-on with velocity 0 is a note-off (MIDI 1.0).
            self._take_note(sent, at, begins=kind == "note_on" and sent.velocity > 0)
        elif kind == "program_change":
            self._programs.setdefault(sent.channel, sent.program)
        elif kind == "track_name" and not self._name:
            self._name = cleaned(sent.name)
        else:
            return False
        return True

    def _take_note(self, sent: Any, at: float, *, begins: bool) -> None:
        waiting = self._sounding[sent.channel, sent.note]
        if begins:
            self.begun += 1
            waiting.append(at)
        elif waiting:
            self._notes[sent.channel].append(MidiNote(waiting.pop(0), at, sent.note))

    def parts(self, number: int, end: float) -> list[MidiPart]:
        """A part for each channel; what never ended sounds to the `end` of the track, which is that of a number."""
        for (channel, note), starts in self._sounding.items():
            self._notes[channel] += [MidiNote(start, max(end, start), note) for start in starts]
        name, several = self._name or default_name("track", number), len(self._notes) > 1
        return [
            MidiPart(
                name=_part_name(name, channel, several=several),
                notes=tuple(sorted(self._notes[channel])),
                program=self._programs.get(channel),
            )
            for channel in sorted(self._notes)
            if self._notes[channel]
        ]


def _waited(sent: Any, name: str) -> int:
    """Ticks since the event before."""
    if sent.time > _MOST_TICKS:
        raise TuneError("midi.endless_number", file=name)
    return int(sent.time)


def _take_sign(sent: Any, at: float, state: _FileState) -> None:
    if sent.type == "time_signature":
        if 1 <= sent.numerator <= MAX_BEATS and sent.denominator in UNITS:
            state.meters.setdefault(at, Meter(sent.numerator, sent.denominator))
        else:
            state.odd_meter = True
    elif sent.type == "key_signature" and sent.key in _FIFTHS_OF_NAME:
        fifths, minor = _FIFTHS_OF_NAME[sent.key]
        state.keys.setdefault(at, Key(fifths, minor=minor))
    elif sent.type == "marker":
        # "Rehearsal letter or section name" (Standard MIDI File 1.1, meta event 6); other markers are a program's own.
        section = section_in(cleaned(sent.text), letters_too=True)
        if section:
            state.sections.setdefault(at, section)


def _part_name(track: str, channel: int, *, several: bool) -> str:
    return channel_name(track, channel + 1) if several else track


def _title(file: Any) -> str:
    """The name of the first track, which names the piece where there are several (Standard MIDI File 1.1)."""
    if file.type == 1 and len(file.tracks) > 1 and not any(sent.type == "note_on" for sent in file.tracks[0]):
        return cleaned(file.tracks[0].name)
    return ""
