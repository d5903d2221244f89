"""Lines put together to sound: each pluck a note of a guitar, ringing on into the next, bent as the hand bends it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from tests.instrument.listening import string_model
from tests.instrument.listening.melodies import LineNote, Touch
from tests.instrument.listening.rendered_guitar import RATE, FontGuitar

Samples = NDArray[np.float64]

PEAK = 0.35  # what a note of velocity 100 comes to, at full scale 1


class Guitar(Protocol):
    """What plays the notes of a line."""

    @property
    def name(self) -> str: ...

    def pluck(
        self, pitch: int, velocity: int, seconds: float, bend: Samples, chance: np.random.Generator
    ) -> tuple[Samples, int]:
        """The samples of one pluck and at which of them it begins; `bend` in semitones, from there on."""
        ...


@dataclass(frozen=True)
class Modelled:
    """A guitar of the string model."""

    strings: string_model.Strings

    @property
    def name(self) -> str:
        return f"model {self.strings.name}"

    def pluck(
        self, pitch: int, velocity: int, seconds: float, bend: Samples, chance: np.random.Generator
    ) -> tuple[Samples, int]:
        detune = float(np.clip(chance.normal(0, 0.05), -0.12, 0.12))
        samples, begins = string_model.plucked(
            pitch, velocity, seconds, RATE, self.strings, chance, bend=bend, detune=detune
        )
        return samples * 0.45, begins


@dataclass(frozen=True)
class Sampled:
    """A guitar of a sound font; `fades` is a decay of our own on top, per second (a palm on the bridge)."""

    guitar: FontGuitar
    fades: float = 0.0

    @property
    def name(self) -> str:
        return self.guitar.name + (", palm on it" if self.fades else "")

    def pluck(
        self, pitch: int, velocity: int, seconds: float, bend: Samples, chance: np.random.Generator
    ) -> tuple[Samples, int]:
        samples, begins = self.guitar.note(pitch, velocity)
        tuned = float(np.clip(chance.normal(0, 0.05), -0.12, 0.12))
        want = min(int(seconds * RATE), len(bend))
        pace = np.concatenate([np.full(begins, tuned), bend[:want] + tuned])
        places = np.cumsum(2.0 ** (pace / 12)) - 1
        samples = samples[: int(places[-1]) + 2]
        out = np.interp(places, np.arange(len(samples)), samples, right=0.0) * 3.0
        if self.fades:
            out[begins:] *= np.exp(-self.fades * np.arange(len(out) - begins) / RATE)
        return out, begins


@dataclass(frozen=True, slots=True)
class TrueNote:
    """What was played, to be found by whoever listens: seconds and a MIDI number."""

    start_s: float
    end_s: float
    pitch: int


@dataclass(frozen=True)
class PlayedLine:
    """The sound of a line, mono at `RATE`, with what was played."""

    samples: Samples
    notes: tuple[TrueNote, ...]

    @property
    def seconds(self) -> float:
        return len(self.samples) / RATE


def played(
    notes: Sequence[LineNote], guitar: Guitar, chance: np.random.Generator, *, same_string: float = 0.5
) -> PlayedLine:
    """The line as `guitar` sounds it.

    A note plucked again on its string (`same_string` of the repeats) is stopped by the pick a little before; others
    ring on as long as the line says.
    """
    end = max(note.start_s + note.length_s + note.rings_s for note in notes) + 0.8
    out = np.zeros(int(end * RATE) + RATE)
    number = 0
    while number < len(notes):
        group = [notes[number]]
        while number + 1 < len(notes) and notes[number + 1].touch in (Touch.SLUR, Touch.SLIDE):
            number += 1
            group.append(notes[number])
        number += 1
        follows = notes[number] if number < len(notes) else None
        _add(out, group, follows, guitar, chance, same_string)
    true = tuple(TrueNote(note.start_s, note.start_s + note.length_s, note.pitch) for note in notes)
    return PlayedLine(out[: int(end * RATE)], true)


def _add(
    out: Samples,
    group: Sequence[LineNote],
    follows: LineNote | None,
    guitar: Guitar,
    chance: np.random.Generator,
    same_string: float,
) -> None:
    """Add one pluck with all that is slurred to it."""
    first, last = group[0], group[-1]
    seconds = last.start_s + last.length_s + last.rings_s - first.start_s
    again = follows is not None and follows.pitch == last.pitch and follows.start_s - first.start_s - seconds < 0.05
    if again and follows is not None and chance.random() < same_string:
        seconds = follows.start_s - first.start_s - chance.uniform(0.0, 0.02)
    count = int((seconds + 0.25) * RATE)
    bend, gain = np.zeros(count), np.ones(count)
    extra = np.zeros(count)
    time = np.arange(count) / RATE
    for note, before in zip(group[1:], group, strict=False):
        _change(bend, gain, extra, time, note, before, first, chance)
    _bend(bend, time, last, first, chance)
    samples, begins = guitar.pluck(first.pitch, first.velocity, seconds + 0.25, bend, chance)
    size = len(samples) - begins
    samples[begins:] *= gain[:size]
    samples[begins:] += extra[:size]
    released = np.ones(len(samples))
    stop = begins + int(seconds * RATE)
    if stop < len(samples):
        tau = chance.uniform(0.005, 0.015) * RATE
        released[stop:] = np.exp(-np.arange(len(samples) - stop) / tau)
    samples *= released
    at = round(first.start_s * RATE) - begins
    skip = max(-at, 0)
    stop = min(len(out), at + len(samples))
    out[at + skip : stop] += samples[skip : stop - at]


def _change(  # noqa: PLR0917  (three rows of samples that it changes)
    bend: Samples,
    gain: Samples,
    extra: Samples,
    time: Samples,
    note: LineNote,
    before: LineNote,
    first: LineNote,
    chance: np.random.Generator,
) -> None:
    """Hammer on, pull off or slide from `before` to `note`: its pitch is there at its start."""
    at = note.start_s - first.start_s
    apart = note.pitch - before.pitch
    if note.touch is Touch.SLUR:
        bend += apart * np.clip((time - at) / 0.004 + 0.5, 0, 1)
        stronger = chance.uniform(1.1, 1.8)
        after = time >= at
        gain[after] *= 1 + (stronger - 1) * np.exp(-(time[after] - at) / 0.5)
        dip = chance.uniform(0.2, 0.7)
        gain *= 1 - dip * np.exp(-(((time - at) / 0.004) ** 2))
        noise = chance.standard_normal(len(time)) * np.where(after, np.exp(-(time - at).clip(0) / 0.003), 0)
        extra += noise * chance.uniform(0.002, 0.012)
        return
    steps = abs(apart)
    lasting = min(chance.uniform(0.02, 0.04) * steps, 0.12, before.length_s * 0.4)
    for step in range(steps):  # fret by fret, and there at `at`
        passed = at - lasting * (steps - 1 - step) / max(steps - 1, 1)
        bend += np.sign(apart) * np.clip((time - passed) / 0.006 + 0.5, 0, 1)
        gain *= 1 - 0.15 * np.exp(-(((time - passed) / 0.004) ** 2))
    scrape = chance.standard_normal(len(time)) * ((time > at - lasting) & (time < at)) * chance.uniform(0.001, 0.004)
    extra += scrape


def _bend(bend: Samples, time: Samples, last: LineNote, first: LineNote, chance: np.random.Generator) -> None:
    """What the finger does to a note while it sounds."""
    since = time - (last.start_s - first.start_s)
    if last.touch is Touch.SLIDE_IN:
        steps = int(chance.integers(1, 4))
        way = float(chance.choice([-1, 1], p=[0.75, 0.25]))
        begun = chance.uniform(0.010, 0.035)
        lasting = chance.uniform(0.015, 0.055)
        bend += way * steps
        for step in range(steps):
            passed = begun + lasting * (step + 1) / steps
            bend -= way * np.clip((since - passed) / 0.006 + 0.5, 0, 1)
    elif last.touch is Touch.BEND:
        height = float(chance.choice([1.0, 2.0]))
        begun = chance.uniform(0.08, 0.2)
        lasting = chance.uniform(0.10, 0.28)
        rising = _eased((since - begun) / lasting)
        bend += height * rising
        if chance.random() < 0.5:
            bend -= height * _eased((since - begun - lasting - 0.12) / lasting)
    elif last.touch is Touch.VIBRATO:
        rate = chance.uniform(4.0, 6.5)
        deep = chance.uniform(0.15, 0.40)
        grown = np.clip((since - 0.12) / 0.2, 0, 1)
        bend += deep * grown * 0.5 * (1 - np.cos(2 * np.pi * rate * since))


def _eased(share: Samples) -> Samples:
    """From 0 to 1 without a corner."""
    x = np.clip(share, 0, 1)
    return x * x * (3 - 2 * x)
