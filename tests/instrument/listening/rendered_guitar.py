"""The guitars of General MIDI sound fonts, rendered note by note with fluidsynth, for tests of what is heard.

Needs Debian's fluidsynth with fluid-soundfont-gm and timgm6mb-soundfont. What was rendered is kept in the folder for
temporary files, by font, program and version of this module.
"""

import hashlib
import os
import shutil
import subprocess
import tempfile
import wave
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

import mido
import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]

FONTS = Path("/usr/share/sounds/sf2")
FLUID = FONTS / "FluidR3_GM.sf2"
TIM = FONTS / "TimGM6mb.sf2"
NYLON, STEEL, JAZZ, CLEAN, MUTED = 24, 25, 26, 27, 28  # General MIDI programs, counted from 0
PROGRAMS = {NYLON: "nylon", STEEL: "steel", JAZZ: "jazz", CLEAN: "clean", MUTED: "muted"}
RATE = 44_100
LOWEST, HIGHEST = 40, 84
SLOT_S = 3.4  # from one note to the next: sounds `HELD_S`, then rings out
HELD_S = 3.0
VERSION = 1


class NoSynthesizerError(Exception):
    """fluidsynth or one of the sound fonts is missing; the message says what to install."""


def check_installed() -> None:
    """Raise `NoSynthesizerError` where a guitar cannot be rendered."""
    if shutil.which("fluidsynth") is None:
        message = "fluidsynth is missing: install it (Debian: fluidsynth) to render guitars."
        raise NoSynthesizerError(message)
    for font, package in ((FLUID, "fluid-soundfont-gm"), (TIM, "timgm6mb-soundfont")):
        if not font.is_file():
            message = f"{font} is missing: install it (Debian: {package}) to render guitars."
            raise NoSynthesizerError(message)


@dataclass(frozen=True)
class FontGuitar:
    """One guitar of a sound font; `velocities` are those it is rendered with."""

    font: Path
    program: int
    velocities: tuple[int, ...] = (48, 80, 112)
    _notes: dict[tuple[int, int], tuple[Samples, int]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def name(self) -> str:
        return f"{self.font.stem} {PROGRAMS.get(self.program, self.program)}"

    def note(self, pitch: int, velocity: int) -> tuple[Samples, int]:
        """The samples of one note, mono at `RATE`, and at which of them it begins.

        It is rendered with the nearest of `velocities` and then made louder or softer.
        """
        nearest = min(self.velocities, key=lambda each: abs(each - velocity))
        found = self._notes.get((pitch, nearest))
        if found is None:
            place = (pitch - LOWEST) * len(self.velocities) + self.velocities.index(nearest)
            begin = int(place * SLOT_S * RATE)
            cut = self._rendered[begin : begin + int(SLOT_S * RATE)].astype(np.float64) / 32_768
            found = self._notes[pitch, nearest] = (cut, attack(cut))
        samples, begins = found
        return samples * (velocity / nearest) ** 1.4, begins

    @cached_property
    def _rendered(self) -> NDArray[np.int16]:
        return render(self.font, self.program, self.velocities)


def attack(samples: Samples) -> int:
    """Where a note rendered alone begins: its envelope (1 ms) first comes to a tenth of its greatest in 60 ms."""
    slot = RATE // 1000
    heard = samples[: len(samples) // slot * slot].reshape(-1, slot)
    envelope = np.sqrt((heard**2).mean(axis=1))
    first = int(np.argmax(envelope > 0.02 * envelope.max()))
    top = envelope[first : first + 60].max()
    return int((first + int(np.argmax(envelope[first:] >= 0.1 * top))) * slot)


def render(font: Path, program: int, velocities: tuple[int, ...]) -> NDArray[np.int16]:
    """Every pitch at every velocity, one each `SLOT_S`, without reverb and chorus."""
    check_installed()
    stamp = f"{font} {font.stat().st_size} {program} {velocities} {VERSION}"
    folder = Path(tempfile.gettempdir()) / f"homefret-guitars-{os.getuid()}"
    folder.mkdir(exist_ok=True)
    kept = folder / f"{hashlib.sha256(stamp.encode()).hexdigest()[:16]}.npy"
    if not kept.is_file():
        with tempfile.TemporaryDirectory() as work:
            tune = Path(work) / "notes.mid"
            notes = [
                (number * SLOT_S, HELD_S, pitch, velocity)
                for number, (pitch, velocity) in enumerate(
                    (pitch, velocity) for pitch in range(LOWEST, HIGHEST + 1) for velocity in velocities
                )
            ]
            write_midi(tune, program, notes)
            sound = Path(work) / "notes.wav"
            # The files come last: fluidsynth 2.4 takes what follows a file for another file.
            command = ["fluidsynth", "-ni", "-q", "-R", "0", "-C", "0", "-g", "0.6", "-r", str(RATE), "-F", str(sound)]
            subprocess.run([*command, str(font), str(tune)], check=True, capture_output=True, timeout=600)
            with wave.open(str(sound)) as opened:
                both = np.frombuffer(opened.readframes(opened.getnframes()), dtype="<i2").reshape(-1, 2)
            mono = (both.astype(np.int32).sum(axis=1) // 2).astype(np.int16)
            whole = np.zeros(int(len(notes) * SLOT_S * RATE) + RATE, dtype=np.int16)
            whole[: len(mono)] = mono[: len(whole)]
            partial = kept.with_suffix(f".{os.getpid()}.npy")
            np.save(partial, whole)
            partial.replace(kept)
    rendered: NDArray[np.int16] = np.load(kept, mmap_mode="r")
    return rendered


def write_midi(path: Path, program: int, notes: list[tuple[float, float, int, int]]) -> None:
    """Notes as (start, length, pitch, velocity), one after another in time, seconds, for fluidsynth."""
    ticks_per_s = 960
    track = mido.MidiTrack(
        [mido.MetaMessage("set_tempo", tempo=500_000), mido.Message("program_change", program=program)]
    )
    events = sorted(
        [(start, "note_on", pitch, velocity) for start, _, pitch, velocity in notes]
        + [(start + length, "note_off", pitch, 0) for start, length, pitch, _ in notes]
    )
    at = 0
    for when, what, pitch, velocity in events:
        tick = round(when * ticks_per_s)
        track.append(mido.Message(what, note=pitch, velocity=velocity, time=tick - at))
        at = tick
    file = mido.MidiFile(ticks_per_beat=480)
    file.tracks.append(track)
    file.save(path)
