"""Makes the click sounds in `sounds/`: python -m game.audio.make_sounds [FOLDER].

A small wooden bar, struck: its first three modes ring at 1 : 2.757 : 5.404, as in any bar that is free at both
ends (Euler-Bernoulli beam; Fletcher & Rossing, The Physics of Musical Instruments, mem), and die away fast, the
higher ones first, as wood does. The attack swells over half a millisecond: sharp enough to be an onset, without
the crack of a bare step that tires the ear. Plain Python arithmetic, so that the files come out the same
wherever they are made. Those for whoever is heard through a microphone are in `bright_clicks`.
"""

import math
import struct
import sys
import wave
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from game.audio.bright_clicks import BRIGHT_CLICKS, bright_samples
from game.paths import shipped

RATE = 44100
_ATTACK_S, _FADE_S = 0.0005, 0.005
_MODES = ((1.0, 1.0, 1.0), (2.757, 0.35, 0.4), (5.404, 0.15, 0.2))
"""Frequency, strength and ringing time, as shares of the first mode's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodenClick:
    """One click: the pitch of its first mode, how long that takes to fall by 60 dB, and its peak, 1 full scale."""

    name: str
    frequency_hz: float
    ringing_s: float
    peak: float


CLICKS = (
    WoodenClick(name="accent", frequency_hz=1320.0, ringing_s=0.11, peak=0.8),
    WoodenClick(name="beat", frequency_hz=880.0, ringing_s=0.10, peak=0.6),
    WoodenClick(name="subdivision", frequency_hz=660.0, ringing_s=0.06, peak=0.3),
)
"""Pitches of our own choice, an octave apart from first to last, below where hearing is keenest (2 to 5 kHz)."""


def samples(click: WoodenClick, rate: int = RATE) -> list[int]:
    """The click as 16-bit samples; the first one that is not silence is number 1."""
    count = round(click.ringing_s * rate)
    bare = [_at(click, index / rate) for index in range(count)]
    loudest = max(abs(sample) for sample in bare)
    return [round(sample / loudest * click.peak * 32767) for sample in bare]


def _at(click: WoodenClick, at_s: float) -> float:
    """The click at `at_s` from its start, before it is brought to its peak."""
    ringing = sum(
        strength
        * math.exp(-math.log(1000) * at_s / (click.ringing_s * lasting))
        * math.sin(2 * math.pi * click.frequency_hz * ratio * at_s)
        for ratio, strength, lasting in _MODES
    )
    swelling = 0.5 - 0.5 * math.cos(math.pi * min(1.0, at_s / _ATTACK_S))
    fading = min(1.0, (click.ringing_s - at_s) / _FADE_S)
    return ringing * swelling * fading


def write(name: str, row: Sequence[int], folder: Path) -> Path:
    """Write 16-bit samples as a mono WAV file into `folder`; returns the file."""
    path = folder / f"{name}.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(struct.pack(f"<{len(row)}h", *row))
    return path


def main(arguments: list[str]) -> None:
    """Write all clicks into the folder given, or into the shipped one."""
    folder = Path(arguments[0]) if arguments else shipped("sounds")
    folder.mkdir(parents=True, exist_ok=True)
    for click in CLICKS:
        print(write(click.name, samples(click), folder))
    for bright in BRIGHT_CLICKS:
        print(write(bright.name, bright_samples(bright, RATE), folder))


if __name__ == "__main__":
    main(sys.argv[1:])
