"""Sound files for tests of what reads them: a small string played into each kind of file."""

import struct
from pathlib import Path

import numpy as np
import soundfile

from tests.instrument.listening.plucked import line

PITCHES = (64, 62, 60, 67)
GAP_S = 0.3
BEGINS_S = 0.1
LASTS_S = BEGINS_S + 3 * GAP_S + 0.4


def played(pitches=PITCHES, *, rate=44_100, gap_s=GAP_S, begins_s=BEGINS_S, level=0.2):
    """A line of a plain guitar: float samples, mono, and after a little silence."""
    sound = line([(gap_s * number, pitch) for number, pitch in enumerate(pitches)], rate=rate, level=level)
    return np.concatenate((np.zeros(round(begins_s * rate), np.float32), sound))


def written(path: Path, sound, *, rate=44_100, subtype="PCM_16", kind="WAV") -> Path:
    """`sound` as a file of a kind, whatever its name says."""
    soundfile.write(path, sound, rate, subtype=subtype, format=kind)
    return path


def wav_head(*, rate=44_100, channels=1, bits=16, data_bytes=0) -> bytes:
    """The head of a WAV file that promises so many bytes of sound."""
    block = max(channels * bits // 8, 1)
    form = struct.pack("<IHHIIHH", 16, 1, channels, rate, rate * block, block, bits)
    return b"RIFF" + struct.pack("<I", 36 + data_bytes) + b"WAVEfmt " + form + b"data" + struct.pack("<I", data_bytes)


def promising(wav: bytes, data_bytes: int) -> bytes:
    """A WAV file whose head promises another length."""
    at = wav.index(b"data") + 4
    return wav[:at] + struct.pack("<I", data_bytes) + wav[at + 4 :]
