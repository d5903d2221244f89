"""Takes as MIDI files: played notes out of one, and into one.

Channels are strings, 1 to 6 on a guitar of six. Seconds count from time 0 of the file, by its own tempo map; a file
that names no tempo runs at 500,000 µs a quarter (SMF 1.1). Only the file's size is trusted, and that only after it was
measured.
"""

import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import mido

from game.errors import TakeError, reason_of
from game.instrument.decoding.decoded import DecodedNotes, decode_all
from game.instrument.decoding.dirt import NO_LIMITS, USUAL_LIMITS, Dirt
from game.instrument.decoding.instrument_state import KeyboardSetup, Setup
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Tuning

Write = Callable[[Path, bytes], object]
"""How a file is written. Raises `OSError`."""

# The design's caps for MIDI files and for notes.
MOST_BYTES = 1_000_000
MOST_NOTES = 10_000
# SMF 1.1: a variable-length number has at most four bytes, so at most 28 bits.
_MOST_TICKS = 0x0FFF_FFFF
# mido reads a variable-length number however long it is, which a long run of high bytes makes endless. No
# number needs such a run, and no text that a take has a use for.
_ENDLESS_NUMBER = re.compile(rb"[\x80-\xff]{4096}")
_DEFAULT_TEMPO_US = 500_000
_TICKS_PER_QUARTER = 500
_SECONDS_PER_TICK = _DEFAULT_TEMPO_US / 1e6 / _TICKS_PER_QUARTER
_SHORT_NOTE_TICKS = 200
# MIDI 1.0: channel messages have a status from 0x80 up to the system messages.
_FIRST_STATUS, _FIRST_SYSTEM_STATUS = 0x80, 0xF0


@dataclass(frozen=True, slots=True)
class RecordedTake:
    """The notes of a take in order of their onsets, seconds from time 0 of the file, and what was filtered."""

    notes: tuple[PlayedNote, ...]
    dirt: Mapping[Dirt, int]


def read_take(
    path: Path, *, keyboard: bool = False, tuning: Tuning = STANDARD, frets: int = DEFAULT_FRETS, filtered: bool = True
) -> RecordedTake:
    """A take out of a file; `keyboard` ignores channels, `filtered=False` takes every note as it came.

    Where most notes would be too short to have been plucked, their lengths mean nothing and none is held to be a
    ghost for it. Raises `TakeError` when the file is missing, too large (1 MB, 10,000 notes), no MIDI file, or holds
    no notes.
    """
    messages = tuple(_messages(_parsed(path), path))
    setup: Setup
    if keyboard:
        setup = KeyboardSetup()
    else:
        channels = channels_from(1, strings=tuning.strings)
        setup = StringsSetup(
            channels=channels, tuning=tuning, frets=frets, limits=USUAL_LIMITS if filtered else NO_LIMITS
        )
    take = _decoded(messages, setup, path)
    if isinstance(setup, StringsSetup) and 2 * take.dirt[Dirt.SHORT] > take.count:
        lengths_apart = replace(setup, limits=replace(setup.limits, shortest_s=0.0, faint_s=0.0))
        take = _decoded(messages, lengths_apart, path)
    if not take.notes:
        raise TakeError("take.no_notes", file=path)
    return RecordedTake(take.notes, take.dirt)


def write_take(path: Path, notes: Sequence[PlayedNote], write: Write = Path.write_bytes) -> None:
    """Write notes so that `read_take` gives them again, times rounded to a millisecond. `write` puts a file there.

    A note ends where the next on its channel begins, or after 200 ms. Notes without a place go to channel
    1. Raises `TakeError` for a time before 0 or a file that cannot be written.
    """
    if any(note.started_s < 0 for note in notes):
        raise TakeError("take.note_before_beginning", file=path)
    track = mido.MidiTrack()
    now = 0
    for tick, message in _events(notes):
        track.append(message.copy(time=tick - now))
        now = tick
    _save(mido.MidiFile(ticks_per_beat=_TICKS_PER_QUARTER, tracks=[track]), path, write)


def write_messages(
    path: Path, messages: Sequence[StampedMessage], setups: Mapping[str, Setup], write: Write = Path.write_bytes
) -> None:
    """Write messages as they came, the first at time 0, each string on the channel of its number. `write` puts a file
    there.

    `setups` tell how each source reports. Messages of channels that are no string's are left out, unless the source
    has no strings. Raises `TakeError` for a file that cannot be written.
    """
    track = mido.MidiTrack()
    now = 0
    for stamped in messages:
        message = _on_string_channel(stamped, setups.get(stamped.source))
        if message is not None:
            tick = max(now, round((stamped.at_s - messages[0].at_s) / _SECONDS_PER_TICK))
            track.append(mido.Message.from_bytes(message, time=tick - now))
            now = tick
    _save(mido.MidiFile(ticks_per_beat=_TICKS_PER_QUARTER, tracks=[track]), path, write)


def _on_string_channel(stamped: StampedMessage, setup: Setup | None) -> bytes | None:
    status, *rest = stamped.message
    if not _FIRST_STATUS <= status < _FIRST_SYSTEM_STATUS:
        return None
    if not isinstance(setup, StringsSetup):
        return stamped.message
    string = setup.string_of((status & 0x0F) + 1)
    return None if string is None else bytes((status & 0xF0 | string - 1, *rest))


def _save(file: Any, path: Path, write: Write) -> None:
    content = io.BytesIO()
    file.save(file=content)
    try:
        write(path, content.getvalue())
    except OSError as error:
        raise TakeError("take.cannot_be_written", file=path, reason=reason_of(error)) from error


def _events(notes: Sequence[PlayedNote]) -> list[tuple[int, Any]]:
    """(tick, message) in order; at one tick ends come before beginnings."""
    events = []
    sounding: dict[int, tuple[int, int]] = {}
    for note in sorted(notes, key=lambda note: note.started_s):
        tick = round(note.started_s / _SECONDS_PER_TICK)
        channel = note.place.string - 1 if note.place else 0
        if channel in sounding:
            pitch, start = sounding[channel]
            end = min(tick, start + _SHORT_NOTE_TICKS)
            events.append((end, 0, mido.Message("note_off", channel=channel, note=pitch)))
        on = mido.Message("note_on", channel=channel, note=note.sounding, velocity=note.velocity)
        events.append((tick, 1, on))
        sounding[channel] = note.sounding, tick
    for channel, (pitch, start) in sounding.items():
        end = start + _SHORT_NOTE_TICKS
        events.append((end, 0, mido.Message("note_off", channel=channel, note=pitch)))
    return [(tick, message) for tick, _, message in sorted(events, key=lambda event: event[:2])]


def _parsed(path: Path) -> Any:
    """The file as mido reads it, after everything that could make it run away was ruled out."""
    raw = _bytes_of(path)
    if not raw.startswith(b"MThd"):
        raise TakeError("take.no_midi_file", file=path)
    if _ENDLESS_NUMBER.search(raw):
        raise TakeError("take.endless_number", file=path)
    try:
        file = mido.MidiFile(file=io.BytesIO(raw))
    except Exception as error:  # mido raises many kinds on broken files, some of them its own
        if not str(error):
            raise TakeError("take.stops_too_early", file=path) from error
        raise TakeError("take.broken", file=path, reason=error) from error
    if file.type not in (0, 1):
        raise TakeError("take.unknown_format", file=path, format=file.type)
    if len(file.tracks) != int.from_bytes(raw[10:12]):
        raise TakeError("take.tracks_missing", file=path)
    return file


def _bytes_of(path: Path) -> bytes:
    try:
        if path.exists() and not path.is_file() and not path.is_dir():
            # A pipe might never end, and a device never begin.
            raise TakeError("take.no_midi_file", file=path)
        with path.open("rb") as opened:
            raw = opened.read(MOST_BYTES + 1)
    except OSError as error:
        raise TakeError("take.cannot_be_read", file=path, reason=reason_of(error)) from error
    if len(raw) > MOST_BYTES:
        raise TakeError("take.too_large", file=path, limit_mb=MOST_BYTES // 1000000)
    return raw


def _messages(file: Any, path: Path) -> Iterator[StampedMessage]:
    """All tracks as one, each message at its seconds."""
    ticks_per_quarter, ticks_per_second = _division(file.ticks_per_beat, path)
    tempo_us = _DEFAULT_TEMPO_US
    at_s = 0.0
    for ticks, message in _merged(file.tracks, path):
        if ticks_per_second:
            at_s += ticks / ticks_per_second
        else:
            at_s += ticks * tempo_us / 1e6 / ticks_per_quarter
        if message.type == "set_tempo":
            tempo_us = message.tempo
        elif not message.is_meta and message.type != "sysex":
            yield StampedMessage(at_s, 0.0, bytes(message.bytes()), path.name)


def _division(division: int, path: Path) -> tuple[int, float]:
    """Ticks a quarter, or ticks a second where the file counts frames (SMF 1.1: SMPTE); the other is 0."""
    if division > 0:
        return division, 0.0
    frames, ticks_per_frame = -(division >> 8), division & 0xFF
    if division == 0 or not ticks_per_frame:
        raise TakeError("take.no_ticks", file=path)
    # SMF 1.1: 29 stands for 30 frames with drops, 29.97 a second.
    return 0, ticks_per_frame * (30_000 / 1001 if frames == 29 else frames)


def _merged(tracks: Sequence[Any], path: Path) -> Iterator[tuple[int, Any]]:
    """(ticks since the last, message) over all tracks in order of time, then of the tracks."""
    placed = []
    for track in tracks:
        tick = 0
        for message in track:
            if message.time > _MOST_TICKS:
                raise TakeError("take.endless_wait", file=path)
            tick += message.time
            placed.append((tick, message))
    placed.sort(key=lambda tick_and_message: tick_and_message[0])
    now = 0
    for tick, message in placed:
        yield tick - now, message
        now = tick


def _decoded(messages: Iterable[StampedMessage], setup: Setup, path: Path) -> DecodedNotes:
    take = decode_all(messages, setup, most=MOST_NOTES)
    if take.count > MOST_NOTES:
        raise TakeError("take.too_many_notes", file=path, limit=MOST_NOTES)
    return take
