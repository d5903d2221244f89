"""A plucked string, for hearing a note on request and for lines played back. numpy alone.

The string as it is in theory: plucked at one place it rings in all its partials at once, partial n as strong as
sin(n * pi * place) / n, the higher ones dying away faster. A decaying partial is a power of one complex number, and
the power of a sum of exponents is a product: the whole sound is one product of two small matrices, exactly in tune.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from game.audio.blocks import Wave
from game.errors import AudioError
from game.music.pitch import frequency_hz

LENGTH_S = 2.0
LOWEST_SOUNDING, HIGHEST_SOUNDING = 21, 108
"""The keys of a piano: more than any guitar has."""

PEAK = 0.5
_HIGHEST_PARTIAL_HZ = 8000.0
_DULL = 3
"""Above the first, and above so many times its brightness, nothing is heard of a string (ours)."""

_HIGHER_LOSS = 0.012
"""How much faster partial n dies away: 1 + this * n squared (ours)."""

_FADE_S = 0.06
_TOUCH_S, _TOUCH_ATTACK_S, _TOUCH_PEAK = 0.1, 0.004, 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Timbre:
    """What a string is like. `plucked_at` is the share of it between bridge and pluck; above `brightness_hz` finger and
    body let little through; its first partial takes `ringing_s` to fall by 60 dB where it is at `ringing_at_hz`, less
    the higher it is; it comes to its full loudness in `attack_s`.
    """

    plucked_at: float
    brightness_hz: float
    ringing_s: float
    ringing_at_hz: float
    attack_s: float


GUITAR_STRING = Timbre(plucked_at=1 / 5, brightness_hz=3000.0, ringing_s=3.5, ringing_at_hz=110.0, attack_s=0.0015)
"""Plucked at a fifth there is no partial 5, 10, 15 (as for any plucked string); the rest is ours."""

_FULL = 32767

_SMALL_PRODUCT = 200_000
"""Multiplications at a time: so few that the linear algebra beneath numpy does not wake its threads, which on a busy
machine take ten times as long as the work itself.
"""

_Complexes = npt.NDArray[np.complex128]


def plucked(sounding: int, rate: int, *, length_s: float = LENGTH_S, timbre: Timbre = GUITAR_STRING) -> Wave:
    """A plucked string at a MIDI number, mono, at half of full scale.

    Raises `AudioError` outside 21 to 108.
    """
    if not LOWEST_SOUNDING <= sounding <= HIGHEST_SOUNDING:
        raise AudioError(
            "audio.pitch_out_of_range",
            pitch=sounding,
            lowest=LOWEST_SOUNDING,
            highest=HIGHEST_SOUNDING,
        )
    samples = round(length_s * rate)
    strengths, exponents = _partials(frequency_hz(sounding), rate, timbre)
    sound = _sum_of_powers(strengths, exponents, samples)
    _shape_ends(sound, rate, timbre.attack_s)
    sound *= PEAK * _FULL / np.abs(sound).max()
    wave: Wave = np.rint(sound).astype(np.int16)
    return wave


def _partials(frequency: float, rate: int, timbre: Timbre) -> tuple[npt.NDArray[np.float64], _Complexes]:
    """Strength of each partial, and its loss and turning in one sample as a complex exponent."""
    highest_hz = min(_HIGHEST_PARTIAL_HZ, _DULL * timbre.brightness_hz, 0.45 * rate)
    count = max(1, int(highest_hz / frequency))
    numbers = np.arange(1, count + 1)
    frequencies = numbers * frequency
    strengths = np.sin(np.pi * numbers * timbre.plucked_at) / numbers / (1 + (frequencies / timbre.brightness_hz) ** 2)
    ringing_s = timbre.ringing_s * (timbre.ringing_at_hz / frequency) ** 0.5 / (1 + _HIGHER_LOSS * numbers**2)
    return strengths, (-np.log(1000) / ringing_s + 2j * np.pi * frequencies) / rate


def _sum_of_powers(strengths: npt.NDArray[np.float64], exponents: _Complexes, samples: int) -> npt.NDArray[np.float32]:
    """Imaginary part of the sum of strength * exp(exponent * n), for n from 0 to `samples`."""
    across = round(samples**0.5)
    down = -(-samples // across)
    rows = (strengths[:, None] * _powers(np.exp(exponents * across), down)).T
    columns = _powers(np.exp(exponents), across)
    left = np.hstack((rows.imag, rows.real)).astype(np.float32)
    right = np.vstack((columns.real, columns.imag)).astype(np.float32)
    sound = np.empty((down, across), np.float32)
    few = max(1, _SMALL_PRODUCT // right.size)
    for row in range(0, down, few):
        np.matmul(left[row : row + few], right, out=sound[row : row + few])
    return sound.ravel()[:samples]


def _powers(bases: _Complexes, count: int) -> _Complexes:
    """Powers 0 to `count` - 1 of each base, shape (bases, count); multiplied up, several times faster than `exp`."""
    factors = np.repeat(bases[:, None], count, axis=1)
    factors[:, 0] = 1
    return np.cumprod(factors, axis=1, dtype=np.complex128)


def _shape_ends(sound: npt.NDArray[np.float32], rate: int, attack_s: float) -> None:
    """Rise from silence at the pluck and fall back to it at the end, in place."""
    attack, fade = min(round(attack_s * rate), len(sound)), min(round(_FADE_S * rate), len(sound))
    sound[:attack] *= np.linspace(0, 1, attack, endpoint=False)
    sound[len(sound) - fade :] *= np.linspace(1, 0, fade)


def pen_touch(rate: int) -> Wave:
    """A pen set down on paper: one damp, low touch of a tenth of a second, a tenth of full scale at its loudest.

    Two partials of no string, low and soon gone, under a breath of rustle that is the same every time.
    """
    at_s = np.arange(round(_TOUCH_S * rate)) / rate
    rustle = np.sin(2 * np.pi * np.cumsum(400 + 350 * np.sin(2 * np.pi * 1700 * at_s**2)) / rate)
    body = np.sin(2 * np.pi * 95 * at_s) + 0.5 * np.sin(2 * np.pi * 153 * at_s)
    sound = (body * np.exp(-at_s / 0.017) + 0.4 * rustle * np.exp(-at_s / 0.008)).astype(np.float32)
    _shape_ends(sound, rate, _TOUCH_ATTACK_S)
    touch: Wave = np.rint(sound * (_TOUCH_PEAK * _FULL / np.abs(sound).max())).astype(np.int16)
    return touch


class PluckedStrings:
    """Plucked strings at one rate, each rendered once. They sound so many semitones higher as they are `raised`."""

    def __init__(self, rate: int) -> None:
        self.rate = rate
        self.raised = 0
        self._waves: dict[int, Wave] = {}

    def reaches(self, sounding: int) -> bool:
        """Whether there is a string at a MIDI number."""
        return LOWEST_SOUNDING <= sounding + self.raised <= HIGHEST_SOUNDING

    def wave(self, sounding: int) -> Wave:
        """The string at a MIDI number. Raises `AudioError` where that lies outside 21 to 108."""
        raised = sounding + self.raised
        if raised not in self._waves:
            self._waves[raised] = plucked(raised, self.rate)
        return self._waves[raised]
