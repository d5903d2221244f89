"""The sound half of `homefret take`: a recording of a plain guitar. What a file is, its content says; it is opened and
heard in the child that reads files from elsewhere, and only notes come back.
"""

from collections.abc import Sequence
from pathlib import Path

from game.commands.answers.take_answer import HeardSound
from game.errors import TakeError
from game.instrument.sources.heard_recording import HeardRecording, recording_of
from game.message import Message, message
from game.practice_log.foreign.limited_reading import ReadingLimits, limited_lines
from game.practice_log.foreign.plain_files import ReadingWords

# Ten minutes at 192,000 samples a second take half a minute here; a slow computer takes several times as long.
_LIMITS = ReadingLimits(cpu_s=300, wall_s=900.0, most_bytes=2_000_000, memory_bytes=1_000_000_000)
_SAID = ReadingWords(
    error=TakeError,
    no_such_file="take.no_such_recording",
    cannot_be_opened="take.cannot_be_read",
    damaged="take.no_sound_file",
    too_slow="take.sound_too_slow",
    libraries=("numpy", "soundfile"),
)
_ENDINGS = frozenset(
    ".wav .wave .bwf .rf64 .w64 .flac .aif .aiff .aifc .caf .au .mp3 .m4a .mp4 .aac .ogg .oga .opus .wma".split()
)
"""Of what is meant as a recording, though we may not read it."""
_WAV_ENDINGS = frozenset((".wav", ".wave", ".bwf", ".rf64", ".w64"))
_MIDI_ENDINGS = frozenset((".mid", ".midi", ".smf", ".kar"))
_HEAD = 16

_QUIET_DB = -42.0
_CLIPPED_OFTEN = 3
_HUM_BELOW_DB = 20.0
"""Hum that lies no more than so much below the playing is worth a word (ours)."""
_HEARD_HUM_DB = -70.0
_OUT_OF_TUNE_CENTS = 20
_LATE_BEATS = 2


def is_recording(path: Path) -> bool:
    """Whether a take is a recording of sound, by its content; by its name where that says nothing, or is no file."""
    head = _head(path)
    if head[:4] in (b"RIFF", b"RIFX"):
        return head[8:12] == b"WAVE"
    if head[:4] in (b"RF64", b"riff", b"fLaC"):
        return True
    return head[:4] != b"MThd" and path.suffix.lower() in _ENDINGS


def heard_take(path: Path, channel: int | None = None, *, lowest_string: int = 40) -> HeardRecording:
    """The notes of a recording, seconds from the beginning of the file; `channel` counts from 1, None where the guitar
    is to be looked for, `lowest_string` is the MIDI number of the lowest open string. Takes about a twentieth of the
    recording's length. Raises `TakeError` in one sentence.
    """
    words = ("" if channel is None else str(channel), str(lowest_string))
    try:
        return recording_of(limited_lines(path, "guitar", words, limits=_LIMITS, said=_SAID), source=path.name)
    except (ValueError, RecursionError) as error:
        raise TakeError("take.no_sound_file", file=path, reason=error) from error


def heard_sound(recording: HeardRecording) -> HeardSound:
    """A recording as the answer has it."""
    facts, tuned_cents = recording.facts, recording.tuned_cents
    return HeardSound(
        format=facts.file_format,
        rate=facts.rate,
        channels=facts.channels,
        used=list(facts.used),
        seconds=round(facts.seconds, 3),
        level_db=round(facts.level_db, 1),
        hum_db=round(facts.hum_db, 1),
        clipped=facts.clipped,
        tuned_cents=None if tuned_cents is None else round(tuned_cents, 1),
        missing_seconds=round(facts.missing_s, 3),
    )


def sound_warnings(recording: HeardRecording, path: Path) -> list[Message]:
    """What the player should know of a recording, the gravest first."""
    facts, tuned_cents = recording.facts, recording.tuned_cents or 0.0
    found = [
        (facts.missing_s > 0, message("take.sound_cut_short", file=path, missing_s=facts.missing_s)),
        (not recording.notes, message("take.sound_without_notes")),
        (facts.level_db < _QUIET_DB, message("take.sound_quiet", below_db=-facts.level_db)),
        (abs(tuned_cents) > _OUT_OF_TUNE_CENTS, _out_of_tune(tuned_cents)),
        (facts.clipped >= _CLIPPED_OFTEN, message("take.sound_clipped", count=facts.clipped)),
        (facts.hum_db > max(facts.level_db - _HUM_BELOW_DB, _HEARD_HUM_DB), _hums(facts.level_db - facts.hum_db)),
        (
            len(facts.used) == 1 < facts.channels,
            message("take.sound_channel", number=facts.used[0], of=facts.channels),
        ),
    ]
    return [*ending_warnings(path, facts.file_format), *(told for is_so, told in found if is_so)]


def _hums(below_db: float) -> Message:
    return message("take.sound_hums", below_db=below_db) if below_db >= 1 else message("take.sound_hums_loudly")


def _out_of_tune(cents: float) -> Message:
    return message("take.sound_sharp" if cents > 0 else "take.sound_flat", cents=abs(cents))


def ending_warnings(path: Path, file_format: str) -> list[Message]:
    """A word where the name of a take says something else than its content, `MIDI` or a format of sound."""
    ending = path.suffix.lower()
    of_sound = {"FLAC": frozenset((".flac",))}.get(file_format, _WAV_ENDINGS)
    right = _MIDI_ENDINGS if file_format == "MIDI" else of_sound
    others = (_ENDINGS | _MIDI_ENDINGS) - right
    return [message("take.misleading_ending", file=path, format=file_format)] if ending in others else []


def begins_late(recording: HeardRecording, due_s: Sequence[float], beats_s: Sequence[float]) -> list[Message]:
    """A word where a timed take seems to begin somewhere in the file: nothing is heard for two beats after the first
    note is due. `due_s` and `beats_s` are of each note.
    """
    if not recording.notes or not due_s or recording.notes[0].started_s <= due_s[0] + _LATE_BEATS * beats_s[0]:
        return []
    return [message("take.sound_begins_late", started_s=recording.notes[0].started_s)]


def _head(path: Path) -> bytes:
    """Its first bytes; none of what is no plain file, for a pipe might never give any."""
    try:
        if not path.is_file():
            return b""
        with path.open("rb") as file:
            return file.read(_HEAD)
    except (OSError, ValueError):
        return b""
