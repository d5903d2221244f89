"""What was heard in a recording of a guitar: what came of its sound file, and its notes. As lines of JSON it travels
from the process that read the file, which is not trusted after that: a sound file from elsewhere may be hostile.
"""

import cmath
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated

import msgspec
from msgspec import Meta

from game.instrument.decoding.played import PlayedNote
from game.instrument.listening.heard import HeardNote
from game.instrument.listening.note_events import velocity_of

MOST_NOTES = 10_000
"""The design's cap for notes: sixteen a second over ten minutes."""

_LEAST_FOR_TUNING = 8
_AGREE = 0.7
"""Fractions spread evenly agree by 0, equal ones by 1; half of them 10 cents sharp and half 10 flat by 0.81 (ours)."""

_Seconds = Annotated[float, Meta(ge=0, le=100_000)]
_Decibels = Annotated[float, Meta(ge=-1000, le=1000)]


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundFacts:
    """What a sound file holds. `channels` are in it; the sound of those `used`, from 1, was heard. `level_db` is how
    loud the louder parts of it are, against full scale, and `hum_db` how loud mains hum is; `clipped` counts places
    where the wave was cut off. `missing_s` is how much the file lacks of what its beginning promises.
    """

    file_format: Annotated[str, Meta(max_length=20)]
    rate: Annotated[int, Meta(ge=1, le=1_000_000)]
    channels: Annotated[int, Meta(ge=1, le=10_000)]
    used: tuple[int, ...]
    seconds: _Seconds
    level_db: _Decibels
    hum_db: _Decibels = -100.0
    clipped: Annotated[int, Meta(ge=0)] = 0
    missing_s: _Seconds = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HeardRecording:
    """The notes of a recording in order of their onsets, seconds from the beginning of the file. `tuned_cents` is by
    how much the guitar was tuned sharp of 440 Hz, negative flat, which is taken out of its notes; None for too few to
    tell.
    """

    facts: SoundFacts
    notes: tuple[PlayedNote, ...]
    tuned_cents: float | None = None


def recording_lines(facts: SoundFacts, notes: Iterable[HeardNote]) -> Iterator[bytes]:
    """A recording for `recording_of`."""
    yield msgspec.json.encode(facts) + b"\n"
    for note in notes:
        played = (note.started_s, note.pitch, note.level_db, note.sure)
        yield msgspec.json.encode(played) + b"\n"


_Row = tuple[_Seconds, Annotated[float, Meta(ge=0, le=127)], _Decibels, bool]
_ROWS = msgspec.json.Decoder(_Row)


def recording_of(lines: Iterable[bytes], source: str) -> HeardRecording:
    """What `recording_lines` was given, in pieces of any number of whole lines; `source` is the name of the file.

    Raises `ValueError` for what it never made, and for more than 10,000 notes.
    """
    head, *rows = b"".join(lines).splitlines() or (b"",)
    if len(rows) > MOST_NOTES:
        raise ValueError("too many notes")
    facts = msgspec.json.decode(head, type=SoundFacts)
    heard = sorted(map(_ROWS.decode, rows))
    tuned = tuning_of([pitch for _, pitch, _, sure in heard if sure])
    notes = tuple(_played(row, source, tuned or 0.0) for row in heard)
    return HeardRecording(facts=facts, notes=notes, tuned_cents=None if tuned is None else 100 * tuned)


def tuning_of(pitches: Sequence[float]) -> float | None:
    """By how many semitones, -0.5 to 0.5, a guitar is tuned sharp of 440 Hz, of MIDI numbers with their fractions: the
    mean of the fractions on their circle (mem: directional statistics). None for fewer than eight, or where they agree
    on none.
    """
    if len(pitches) < _LEAST_FOR_TUNING:
        return None
    mean = sum(cmath.exp(2j * cmath.pi * pitch) for pitch in pitches) / len(pitches)
    return cmath.phase(mean) / (2 * cmath.pi) if abs(mean) >= _AGREE else None


def _played(row: _Row, source: str, tuned: float) -> PlayedNote:
    started_s, pitch, level_db, sure = row
    return PlayedNote(
        started_s=started_s,
        sounding=min(max(round(pitch - tuned), 0), 127),
        place=None,
        velocity=velocity_of(level_db),
        source=source,
        sure=sure,
    )
