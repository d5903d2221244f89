"""Spelled pitch: F♯4 is not G♭4.

Octave 4 starts at middle C, MIDI number 60 (MIDI 1.0, MusicXML 4.0 and scientific pitch notation agree), and
A4 = MIDI 69 = 440 Hz (ISO 16:1975).
"""

import re
from dataclasses import dataclass

STEPS = "CDEFGAB"
SEMITONES_OF_STEP = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
MAX_ALTER = 2
_NAME = re.compile(r"([A-G])(#{0,2}|b{0,2})(-?\d+)")
_ALTER_SIGNS = {-2: "bb", -1: "b", 0: "", 1: "#", 2: "##"}


@dataclass(frozen=True, slots=True, order=True)
class Pitch:
    """A pitch as it is spelled. `alter` is in semitones, -2 to 2; `octave` 4 starts at middle C."""

    step: str
    alter: int
    octave: int

    def __post_init__(self) -> None:
        if self.step not in SEMITONES_OF_STEP or abs(self.alter) > MAX_ALTER:
            raise ValueError(f"no such pitch: step {self.step!r}, alter {self.alter}")

    @property
    def midi(self) -> int:
        """MIDI number; B♯3 and C4 are both 60."""
        return 12 * (self.octave + 1) + SEMITONES_OF_STEP[self.step] + self.alter

    @property
    def staff_step(self) -> int:
        """Lines and spaces counted upwards, whatever the accidental: C0 is 0, C4 28, D4 29."""
        return 7 * self.octave + STEPS.index(self.step)

    @property
    def name(self) -> str:
        """ASCII name as our answers print it: "F#4", "Bb3", "C##5"."""
        return f"{self.step}{_ALTER_SIGNS[self.alter]}{self.octave}"

    def up_octaves(self, octaves: int) -> "Pitch":
        """The same letter and accidental, `octaves` higher (negative: lower)."""
        return Pitch(self.step, self.alter, self.octave + octaves)

    def __str__(self) -> str:
        return self.name


def pitch(name: str) -> Pitch:
    """The pitch called `name` ("F#4", "Bb3", "C##5"): the opposite of `Pitch.name`."""
    found = _NAME.fullmatch(name)
    if not found:
        raise ValueError(f"not the name of a pitch: {name!r} (write F#4, Bb3 or C##5)")
    step, signs, octave = found.groups()
    return Pitch(step, len(signs) * (1 if signs[:1] == "#" else -1), int(octave))


def frequency_hz(midi: float, *, tuning_hz: float = 440.0) -> float:
    """Equal-tempered frequency of a MIDI number, fractions allowed; ISO 16:1975 for `tuning_hz`."""
    return float(tuning_hz * 2 ** ((midi - 69) / 12))
