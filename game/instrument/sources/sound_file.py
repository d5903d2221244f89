"""Recordings of a guitar as sound files: opened, checked and heard. Called in the child that reads files from
elsewhere, and nowhere else: a sound file is hostile input.

WAV (RF64 and W64 too) and FLAC, 16,000 to 192,000 samples a second, ten minutes, up to 64 channels. What a file
is, its content says. It is gone through twice, a twentieth of a second at a time: the longest needs hardly more memory
than the shortest.
"""

import os
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from game.errors import TakeError, reason_of
from game.instrument.listening.heard import HeardNote, Told
from game.instrument.listening.hindsight import with_hindsight
from game.instrument.listening.listener import Listener
from game.instrument.listening.range_heard import lowest_looked_for
from game.instrument.listening.stepped_sound import HIGHEST_RATE, LOWEST_RATE
from game.instrument.listening.whole_recording import notes_in_the_end
from game.instrument.sources.guitar_channels import ChannelSurvey, Frames
from game.instrument.sources.heard_recording import SoundFacts, recording_lines
from game.instrument.sources.mains_hum import MainsHum

LONGEST_S = 600
MOST_CHANNELS = 64
"""More than any interface has; comparing each with each takes its time."""
_BLOCKS_A_SECOND = 20
_READ = {"WAV": "WAV", "WAVEX": "WAV", "RF64": "RF64", "W64": "W64", "FLAC": "FLAC"}
_LEAST_BITS = 8
_UNKNOWN = 1 << 62
"""A length in frames that stands for none: a FLAC file that was written to a pipe."""
_UNTOLD_BYTES = 0x7FFF_0000
"""A WAV file that was written to a pipe promises all there may be: from here on nothing is promised (trade)."""
_PROMISED = re.compile(r"^\s*(?:riff|riff size|data)\s*:\s*(\d+) \(should be (\d+)\)", re.IGNORECASE | re.MULTILINE)
_BYTES_A_SECOND = re.compile(r"Bytes/sec\s*:\s*(\d+)")
_BITS = re.compile(r"Bit Width\s*:\s*(\d+)")
_NOTICED_S = 0.05
"""Less than that is missing in many a file whose writer counted otherwise."""

_USUAL_DB, _QUIET_DB, _MOST_GAIN_DB = -20.0, -30.0, 24.0
"""Playing quieter than `_QUIET_DB` is brought to the usual level before it is heard, within bounds: a file can be
turned up afterwards, and its noise with it.
"""
_HIGHEST_SAMPLE = 4.0
"""Beyond that, samples in floating point are not meant against full scale 1: some programs write up to 32,768."""


def lines_of_sound_file(path: Path, channel: str = "", lowest_string: str = "40") -> Iterator[bytes]:
    """A recording as `heard_recording.recording_of` takes it. `channel` counts from 1, "" where the guitar is to be
    looked for; `lowest_string` is the MIDI number of the lowest open string. Raises `TakeError` in one sentence for
    what cannot be heard.
    """
    with _opened(path) as file:
        survey = _surveyed(file, path)
        used = _used(survey, channel, path)
        facts = _facts(file, survey, used)
    hum = MainsHum(facts.rate)
    with _opened(path) as file:
        notes = _heard(file, used, _gain(survey, used), hum, lowest_looked_for(int(lowest_string)))
    yield from recording_lines(replace(facts, hum_db=hum.level_db()), notes)


@contextmanager
def _opened(path: Path) -> Iterator[Any]:
    """The file, of a kind we read."""
    library = _library()
    try:
        with path.open("rb", buffering=0) as raw:
            # Not by its name, whose bytes may be no UTF-8 and whose ending may be wrong; Windows has no such handles.
            source = raw.fileno() if os.name == "posix" else str(path)
            with library.SoundFile(source, closefd=False) as file:
                _check(file, path)
                yield file
    except library.LibsndfileError as error:
        raise TakeError("take.no_sound_file", file=path, reason=error.error_string.rstrip(".")) from error
    except OSError as error:
        raise TakeError("take.cannot_be_read", file=path, reason=reason_of(error)) from error


def _library() -> Any:
    try:
        import soundfile  # noqa: PLC0415 - it may be missing, and nothing but recordings needs it
    except (ImportError, OSError) as error:
        raise TakeError("take.no_sound_library") from error
    return soundfile


def _check(file: Any, path: Path) -> None:
    """Refuse by its header alone what cannot be heard."""
    if file.format not in _READ:
        raise TakeError("take.other_sound_format", file=path, format=file.format)
    if not LOWEST_RATE <= file.samplerate <= HIGHEST_RATE:
        limits = {"least": LOWEST_RATE, "most": HIGHEST_RATE}
        raise TakeError("take.sound_rate", file=path, rate=file.samplerate, **limits)
    if file.channels > MOST_CHANNELS:
        raise TakeError("take.sound_channels", file=path, count=file.channels)
    bits = _BITS.search(file.extra_info)
    if bits and 0 < int(bits[1]) < _LEAST_BITS and _READ[file.format] == "WAV" and file.subtype.startswith("PCM"):
        raise TakeError("take.sound_bits", file=path, count=int(bits[1]))
    if file.frames < _UNKNOWN:
        _check_length(file.frames / file.samplerate, path)


def _check_length(seconds: float, path: Path) -> None:
    if seconds > LONGEST_S:
        raise TakeError("take.sound_too_long", file=path, limit=LONGEST_S // 60)


def _blocks(file: Any) -> Iterator[Frames]:
    """All there is, however much its header promises."""
    length = file.samplerate // _BLOCKS_A_SECOND
    while True:
        try:
            block: Frames = file.read(length, dtype="float32", always_2d=True)
        except RuntimeError:
            # The file ends in the middle of what belongs together.
            return
        if not len(block):
            return
        yield block


def _surveyed(file: Any, path: Path) -> ChannelSurvey:
    survey = ChannelSurvey(rate=file.samplerate, channels=file.channels)
    for block in _blocks(file):
        survey.take_in(block)
        _check_length(survey.frames / survey.rate, path)
    if not survey.frames:
        raise TakeError("take.sound_empty", file=path)
    if survey.first_no_number_s is not None:
        raise TakeError("take.sound_no_numbers", file=path, at_s=survey.first_no_number_s)
    return survey


def _used(survey: ChannelSurvey, channel: str, path: Path) -> tuple[int, ...]:
    if not channel:
        return survey.guitar()
    if not 1 <= int(channel) <= survey.channels:
        raise TakeError("take.no_such_sound_channel", file=path, number=int(channel), count=survey.channels)
    return (int(channel) - 1,)


def _heard(file: Any, used: Sequence[int], gain: float, hum: MainsHum, lowest: float) -> tuple[HeardNote, ...]:
    listener = Listener(file.samplerate, lowest=lowest)
    told: list[Told] = []
    for block in _blocks(file):
        sound = block[:, list(used)].mean(axis=1, dtype=np.float64)
        hum.take_in(sound)
        told += listener.feed((gain * sound).astype(np.float32))
    return with_hindsight(notes_in_the_end((*told, *listener.finish())))


def _gain(survey: ChannelSurvey, used: tuple[int, ...]) -> float:
    if survey.peak > _HIGHEST_SAMPLE:
        return 1 / survey.peak
    level_db = survey.level_db(used)
    return 10 ** (min(_USUAL_DB - level_db, _MOST_GAIN_DB) / 20) if level_db < _QUIET_DB else 1.0


def _facts(file: Any, survey: ChannelSurvey, used: tuple[int, ...]) -> SoundFacts:
    return SoundFacts(
        file_format=_READ[file.format],
        rate=file.samplerate,
        channels=file.channels,
        used=tuple(channel + 1 for channel in used),
        seconds=survey.frames / survey.rate,
        level_db=survey.level_db(used),
        clipped=survey.clipped(used),
        missing_s=_missing_s(file, survey.frames),
    )


def _missing_s(file: Any, frames: int) -> float:
    """How much of the sound is not there that the header promises."""
    told = file.frames - frames if file.frames < _UNKNOWN else 0
    missing_s = [told / file.samplerate]
    bytes_a_second = _BYTES_A_SECOND.search(file.extra_info)
    if bytes_a_second and int(bytes_a_second[1]):
        for promised, there in _PROMISED.findall(file.extra_info):
            if int(there) < int(promised) < _UNTOLD_BYTES:
                missing_s.append((int(promised) - int(there)) / int(bytes_a_second[1]))
    longest_s = max(missing_s)
    return longest_s if longest_s > _NOTICED_S else 0.0
