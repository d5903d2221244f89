"""Lines of a guitar with steel strings, rendered by Debian's fluidsynth from the samples of its general sound font."""

import subprocess
import wave
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import mido
import numpy as np

from tests.system.needs import require, require_file

RATE = 48000
# General MIDI 1.0: program 26, counted from 1, is the acoustic guitar with steel strings.
_STEEL = 25
_FONT = "share/sounds/sf2/FluidR3_GM.sf2"
_TICKS_A_SECOND = 960
# Above it a recording would be called too loud.
PEAK = 0.5
# The last note is damped after that.
LAST_S = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Plucked:
    """One note: when it is plucked, its MIDI number, and how long it sounds at most; the next one ends it."""

    at_s: float
    sounding: int
    length_s: float = 1.5


def rendered(notes: Iterable[Plucked], file: Path) -> Path:
    """Write a line as mono samples at `RATE` for `tests.system.room`; where it is written."""
    fluidsynth = require("fluidsynth", package="fluidsynth")
    font = require_file(_FONT, package="fluid-soundfont-gm")
    midi, sound = file.with_suffix(".mid"), file.with_suffix(".wav")
    line = sorted(notes, key=lambda note: note.at_s)
    _as_midi(line).save(midi)
    # No reverberation and no chorus: a room of our own colours nothing.
    words = ["-ni", "-q", "-R", "0", "-C", "0", "-r", str(RATE), "-F", str(sound), str(font), str(midi)]
    subprocess.run([fluidsynth, *words], check=True, capture_output=True)
    with wave.open(str(sound)) as recording:
        frames = np.frombuffer(recording.readframes(recording.getnframes()), "<i2").reshape(-1, 2)
    samples = frames.mean(axis=1)
    samples = samples[: round((max(note.at_s for note in line) + LAST_S) * RATE)]
    np.save(file, (PEAK * samples / np.abs(samples).max()).astype(np.float32))
    return file


def _as_midi(notes: list[Plucked]) -> mido.MidiFile:
    events = []
    for note, after in zip(notes, [*notes[1:], None], strict=True):
        end_s = note.at_s + note.length_s
        if after is not None:
            end_s = min(end_s, after.at_s)
        events += [(note.at_s, 1, "note_on", note.sounding), (end_s, 0, "note_off", note.sounding)]
    track = mido.MidiTrack(
        [mido.MetaMessage("set_tempo", tempo=500_000), mido.Message("program_change", program=_STEEL)]
    )
    now = 0
    for at_s, _, kind, sounding in sorted(events):
        at = round(at_s * _TICKS_A_SECOND)
        track.append(mido.Message(kind, note=sounding, velocity=90, time=at - now))
        now = at
    track.append(mido.MetaMessage("end_of_track", time=0))
    return mido.MidiFile(ticks_per_beat=_TICKS_A_SECOND // 2, tracks=[track])
