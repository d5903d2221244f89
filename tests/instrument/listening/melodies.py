"""Lines for one voice as they are played: what is written, and how a hand takes it."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

SCALE = (0, 2, 4, 5, 7, 9, 11)


class Touch(Enum):
    """How a note is begun, or what is done to it while it sounds."""

    PLUCK = "pluck"
    SLUR = "slur"  # hammered on or pulled off: no pluck of its own
    SLIDE = "slide"  # the finger slides along from the note before: no pluck of its own
    SLIDE_IN = "slide in"  # plucked one to three frets off, and there within a tenth of a second
    BEND = "bend"  # pulled up by a semitone or a whole tone, and often let down again: one note, of the first pitch
    VIBRATO = "vibrato"


@dataclass(frozen=True, slots=True, kw_only=True)
class LineNote:
    """A note of a line: `start_s` and `length_s` as played, a velocity from 1 to 127.

    `length_s` is until the hand ends it, or, for `rings_s`, leaves it to ring on into the next.
    """

    start_s: float
    length_s: float
    pitch: int
    velocity: int
    rings_s: float = 0.0
    touch: Touch = Touch.PLUCK


def line(
    chance: np.random.Generator,
    *,
    notes: int,
    lowest: int,
    highest: int,
    bpm: float,
    repeats: float = 0.08,
    rests: float = 0.06,
    shortest: float = 0.5,
    touches: Sequence[Touch] = (),
    touched: float = 0.4,
    staccato: bool = False,
    ringing: tuple[float, float] = (0.0, 0.08),
    unsteady_s: float = 0.012,
    velocities: tuple[int, int] = (52, 116),
) -> tuple[LineNote, ...]:
    """A tonal line of steps and small leaps within [lowest, highest].

    `shortest` is the shortest written length in quarter notes, `repeats` and `rests` shares of notes, `touches` what is
    done to a share `touched` of the notes that have room for it.
    """
    key = int(chance.integers(12))
    pitches = [pitch for pitch in range(lowest, highest + 1) if (pitch - key) % 12 in SCALE]
    at = int(chance.integers(len(pitches)))
    beat = 60 / bpm
    lengths = [each for each in (0.5, 1.0, 1.0, 0.5, 1.5, 2.0) if each >= shortest]
    written: list[tuple[float, float, int]] = []
    now = 0.35
    while len(written) < notes:
        length = float(chance.choice(lengths))
        if chance.random() < rests and written:
            now += length * beat
            continue
        if not written or chance.random() >= repeats:
            at = _moved(at, len(pitches), chance)
        written.append((now, length * beat, pitches[at]))
        now += length * beat
    starts = [start + float(np.clip(chance.normal(0, unsteady_s), -0.03, 0.03)) for start, _, _ in written]
    played = []
    for number, (start, length, pitch) in enumerate(written):
        follows = starts[number + 1] if number + 1 < len(written) else starts[number] + length
        sounding = min(length * chance.uniform(0.92, 1.0), follows - starts[number])
        joined = follows - (start + length) < 0.05
        rings = float(chance.uniform(*ringing)) if joined else 0.0
        if joined:
            sounding = follows - starts[number]
        touch = Touch.PLUCK
        if touches and chance.random() < touched:
            touch = _fitting(touches[int(chance.integers(len(touches)))], played, starts[number], pitch, sounding)
        if staccato:
            sounding, rings = min(sounding * chance.uniform(0.3, 0.5), 0.25), 0.0
        velocity = int(chance.integers(velocities[0], velocities[1] + 1))
        played.append(
            LineNote(
                start_s=starts[number], length_s=sounding, pitch=pitch, velocity=velocity, rings_s=rings, touch=touch
            )
        )
    return tuple(played)


def _moved(at: int, count: int, chance: np.random.Generator) -> int:
    """A step or a small leap along the scale, never onto the same note."""
    for _ in range(20):
        move = int(chance.choice([-4, -3, -2, -1, -1, -1, 1, 1, 1, 2, 3, 4]))
        if chance.random() < 0.04:
            move = int(chance.choice([-7, 7]))
        if 0 <= at + move < count:
            return at + move
    return max(0, min(count - 1, at + (1 if at < count // 2 else -1)))


def _fitting(touch: Touch, before: Sequence[LineNote], start_s: float, pitch: int, sounding_s: float) -> Touch:
    """`touch` where a hand can do it there, else a plain pluck."""
    if touch in (Touch.SLUR, Touch.SLIDE):
        if not before or before[-1].touch in (Touch.BEND, Touch.VIBRATO):
            return Touch.PLUCK
        last = before[-1]
        joined = start_s - (last.start_s + last.length_s) < 0.005 and last.length_s >= 0.14
        apart = abs(pitch - last.pitch)
        return touch if joined and 1 <= apart <= (4 if touch is Touch.SLUR else 5) else Touch.PLUCK
    if touch in (Touch.BEND, Touch.VIBRATO) and sounding_s < 0.45:
        return Touch.PLUCK
    if touch is Touch.SLIDE_IN and sounding_s < 0.25:
        return Touch.PLUCK
    return touch
