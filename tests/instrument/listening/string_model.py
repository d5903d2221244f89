"""A plucked string as a sum of partials, for tests of what is heard: its pitch and its pluck are known exactly.

The partials of a stiff string lie at n f0 sqrt(1 + B n^2) (Fletcher 1964); one plucked at a share p of its length has
them in strengths of sin(n p pi) / n, and high ones fade sooner (Fletcher and Rossing, The Physics of Musical
Instruments, ch. 2 and 9). Each has two polarisations a little apart, so that it beats. Around that: the touch of the
pick before the pluck, its noise, the thump of the body (its lowest resonances lie near 100 and 200 Hz), and a pitch
that starts a few cents sharp.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]

INAUDIBLE = 3e-5
OPEN_STRINGS = (64, 59, 55, 50, 45, 40)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strings:
    """A guitar: its strings, its body, and what it is heard by.

    `stiffness` is B of an open string, `fading` and `fading_high` the partials' decay, per second and per second and
    kHz squared; `pickup` the place of a magnetic one as a share of the string (None: the bridge's force is heard).
    `thump` and `noise` are the body's and the pick's loudness beside the string's: what lies under 240 Hz is, in the
    first 50 ms of D4 to C5, some 14 dB below the whole on steel strings and 11 on nylon ones, as in sampled guitars.
    """

    name: str
    stiffness: tuple[float, ...]
    fading: float
    fading_high: float
    pickup: float | None
    thump: float
    noise: float
    bodies: tuple[tuple[float, float, float], ...] = ((102.0, 0.045, 1.0), (205.0, 0.035, 0.7), (390.0, 0.02, 0.3))


STEEL = Strings(
    name="steel",
    stiffness=(2.6e-5, 4.0e-5, 6.0e-5, 4.5e-5, 7.0e-5, 1.1e-4),
    fading=1.1,
    fading_high=0.55,
    pickup=None,
    thump=0.16,
    noise=0.10,
)
NYLON = Strings(
    name="nylon string",
    stiffness=(2.0e-5, 2.8e-5, 5.0e-5, 2.5e-5, 3.0e-5, 4.0e-5),
    fading=2.2,
    fading_high=2.5,
    pickup=None,
    thump=0.24,
    noise=0.04,
)
ELECTRIC = Strings(
    name="electric",
    stiffness=(2.0e-5, 3.0e-5, 7.5e-5, 5.0e-5, 8.0e-5, 1.4e-4),
    fading=0.7,
    fading_high=0.7,
    pickup=0.17,
    thump=0.02,
    noise=0.05,
)


def muted(strings: Strings) -> Strings:
    """The same, with the palm on the bridge."""
    return replace(strings, name=f"{strings.name}, palm on it", fading=9.0, fading_high=14.0)


def hertz(pitch: float) -> float:
    return 440.0 * 2 ** ((pitch - 69) / 12)


def string_for(pitch: int, chance: np.random.Generator) -> int:
    """One of the strings a player may take `pitch` on, 0 the highest: the fret from 0 to 14."""
    fitting = [number for number, low in enumerate(OPEN_STRINGS) if 0 <= pitch - low <= 14]
    return int(chance.choice(fitting)) if fitting else (5 if pitch < OPEN_STRINGS[-1] else 0)


def plucked(
    pitch: int,
    velocity: int,
    seconds: float,
    rate: int,
    strings: Strings,
    chance: np.random.Generator,
    *,
    bend: Samples | None = None,
    detune: float = 0.0,
) -> tuple[Samples, int]:
    """The samples of one pluck, and at which of them the string is let go.

    `bend` moves the pitch, in semitones, sample by sample from the pluck on; `detune` is a constant, in semitones.
    Before the pluck lies the touch of the pick, up to 25 ms.
    """
    count = int(seconds * rate)
    time = np.arange(count) / rate
    string = string_for(pitch, chance)
    fret = max(pitch - OPEN_STRINGS[string], 0)
    stiff = strings.stiffness[string] * 2 ** (fret / 6)
    loud = (velocity / 127) ** 1.6
    sharp = 0.10 * loud * np.exp(-time / 0.09) * chance.uniform(0.2, 1.0)
    moved = sharp + detune if bend is None else sharp + detune + bend[:count]
    base = hertz(pitch)
    turned = 2 * np.pi * np.cumsum(base * 2 ** (moved / 12)) / rate
    place = chance.uniform(0.08, 0.30)
    width = chance.uniform(0.00008, 0.00025) * (2.2 - 1.2 * loud)  # s, how long the pick takes to let go
    out = np.zeros(count)
    for partial in range(1, int(0.42 * rate / base) + 1):
        stretch = partial * np.sqrt((1 + stiff * partial**2) / (1 + stiff))
        frequency = base * stretch
        if frequency > min(0.45 * rate, 12_000):
            break
        strength = abs(np.sin(partial * np.pi * place)) / partial * np.exp(-((frequency * width * 2.5) ** 2))
        if strings.pickup is not None:
            strength *= abs(np.sin(partial * np.pi * strings.pickup)) * 1.6
        strength *= chance.uniform(0.7, 1.3)
        fading = strings.fading * chance.uniform(0.7, 1.4) + strings.fading_high * (frequency / 1000) ** 2
        kept = min(count, int(rate * np.log(max(strength, 1e-9) / INAUDIBLE) / fading))
        if kept <= 0:
            continue
        apart = chance.uniform(0.0, 0.0006)
        share = chance.uniform(0.55, 0.9)
        phase = turned[:kept] * stretch
        held = np.exp(-fading * time[:kept])
        twin = held * np.exp(-fading * 0.9 * time[:kept])
        out[:kept] += strength * (share * held * np.sin(phase) + (1 - share) * twin * np.sin(phase * (1 + apart)))
    begun = np.minimum(time / 0.0006, 1.0)
    out *= begun * loud
    # What shakes the body is the force on the bridge: the same pull near it moves the string less (by p (1 - p)).
    shaken = strings.thump * place * (1 - place) / 0.15
    for frequency, lasting, strength in strings.bodies:
        wobble = frequency * chance.uniform(0.93, 1.07)
        out += loud * shaken * strength * begun * np.exp(-time / lasting) * np.sin(2 * np.pi * wobble * time)
    early = int(chance.uniform(0.004, 0.025) * rate)
    whole = np.concatenate([np.zeros(early), out])
    whole[early:] += _burst(count, 0.0035, rate, chance) * strings.noise * loud
    touch = _burst(len(whole), 0.002, rate, chance) * strings.noise * loud * chance.uniform(0.0, 0.5)
    return whole + touch, early


def _burst(count: int, lasting: float, rate: int, chance: np.random.Generator) -> Samples:
    """Bright noise that fades within `lasting` seconds."""
    made = np.zeros(count)
    length = min(count, int(lasting * 8 * rate))
    noise = np.diff(chance.standard_normal(length + 1))
    made[:length] = noise * np.exp(-np.arange(length) / (lasting * rate))
    return made
