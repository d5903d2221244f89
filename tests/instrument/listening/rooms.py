"""What else a microphone hears, and what it makes of a guitar: rooms, hum, clicks, squeaks, voices, cheap ware."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.signal import butter, fftconvolve, lfilter, resample_poly, sosfilt

from tests.instrument.listening.rendered_guitar import RATE

Samples = NDArray[np.float64]


def loudness(samples: Samples) -> float:
    """How loud the line is where it sounds: the ninth tenth of the peaks of tenths of a second."""
    slot = RATE // 10
    peaks = np.abs(samples[: len(samples) // slot * slot]).reshape(-1, slot).max(axis=1)
    return float(np.quantile(peaks, 0.9))


def in_room(samples: Samples, chance: np.random.Generator, *, lasts_s: float = 0.4, wet: float = 0.25) -> Samples:
    """Early reflections and a tail that fades by 60 dB in `lasts_s`; `wet` is its energy beside the direct sound's."""
    count = int(lasts_s * RATE)
    time = np.arange(count) / RATE
    tail = chance.standard_normal(count) * 10 ** (-3 * time / lasts_s) * (time > 0.012)
    sos = butter(1, 4_000, fs=RATE, output="sos")
    tail = sosfilt(sos, tail)
    for _ in range(8):
        tail[int(chance.uniform(0.0015, 0.03) * RATE)] += chance.choice([-1, 1]) * chance.uniform(1.0, 3.0)
    tail *= np.sqrt(wet / float((tail**2).sum()))
    return samples + fftconvolve(samples, tail)[: len(samples)]


def with_hum(samples: Samples, mains: float, below_db: float, chance: np.random.Generator) -> Samples:
    """Mains hum with its overtones and a little hiss, at rms `below_db` under the line's loudness."""
    time = np.arange(len(samples)) / RATE
    hum = np.zeros(len(samples))
    for number, strength in ((1, 1.0), (2, 0.6), (3, 0.5), (4, 0.2), (5, 0.3), (7, 0.2), (9, 0.1), (11, 0.08)):
        hum += strength * np.sin(2 * np.pi * mains * number * time + chance.uniform(0, 6.28))
    hum += 0.05 * chance.standard_normal(len(samples))
    hum *= loudness(samples) * 10 ** (below_db / 20) / np.sqrt(float((hum**2).mean()))
    return samples + hum


def with_sounds(samples: Samples, sound: Samples, starts_s: Sequence[float], peak: float) -> Samples:
    """`sound` added at each of `starts_s`, with that peak."""
    out = samples.copy()
    scaled = sound * (peak / np.abs(sound).max())
    for start in starts_s:
        at = int(start * RATE)
        stop = min(len(out), at + len(scaled))
        if stop > at >= 0:
            out[at:stop] += scaled[: stop - at]
    return out


def squeak(chance: np.random.Generator) -> Samples:
    """A finger along a wound string: a band of noise whose middle wanders, a tenth of a second or two."""
    lasting = chance.uniform(0.06, 0.22)
    count = int(lasting * RATE)
    path = np.linspace(chance.uniform(900, 2_500), chance.uniform(900, 2_500), count)
    noise = chance.standard_normal(count)
    carried = np.cos(2 * np.pi * np.cumsum(path) / RATE) * lfilter([0.03], [1, -0.97], noise)
    carried += 0.4 * lfilter([0.1, -0.1], [1, -0.5], noise)
    return carried * np.hanning(count)


def tap(chance: np.random.Generator) -> Samples:
    """A finger or a ring against the body: damped low resonances and a short noise."""
    time = np.arange(int(0.18 * RATE)) / RATE
    made = np.zeros(len(time))
    for hertz, lasting, strength in (
        (100, 0.03, 1.0),
        (190, 0.022, 0.9),
        (330, 0.014, 0.6),
        (560, 0.009, 0.5),
        (1_150, 0.005, 0.4),
    ):
        wobble = hertz * chance.uniform(0.85, 1.2)
        made += strength * chance.uniform(0.4, 1.2) * np.exp(-time / lasting) * np.sin(2 * np.pi * wobble * time)
    made += chance.standard_normal(len(time)) * np.exp(-time / 0.002) * chance.uniform(0.2, 0.8)
    return made / np.abs(made).max()


def white(seconds: float, rms_db: float, chance: np.random.Generator) -> Samples:
    return chance.standard_normal(int(seconds * RATE)) * 10 ** (rms_db / 20)


def pink(seconds: float, rms_db: float, chance: np.random.Generator) -> Samples:
    """Noise of equal power in each octave."""
    count = int(seconds * RATE)
    spectrum = np.fft.rfft(chance.standard_normal(count))
    spectrum /= np.sqrt(np.maximum(np.arange(len(spectrum)), 20.0))
    made = np.fft.irfft(spectrum, count)
    return made * (10 ** (rms_db / 20) / np.sqrt(float((made**2).mean())))


def fan(seconds: float, rms_db: float, chance: np.random.Generator) -> Samples:
    """Air and blades: pink noise, its loudness swelling a little, with a weak tone of the blades that drifts."""
    air = pink(seconds, 0.0, chance)
    time = np.arange(len(air)) / RATE
    air *= 1 + 0.15 * np.sin(2 * np.pi * 0.7 * time) + 0.1 * np.sin(2 * np.pi * 7.3 * time)
    blades = 148 + 2 * np.sin(2 * np.pi * 0.05 * time)
    turned = 2 * np.pi * np.cumsum(blades) / RATE
    made = air + 0.35 * np.sin(turned) + 0.2 * np.sin(2 * turned)
    return made * (10 ** (rms_db / 20) / np.sqrt(float((made**2).mean())))


VOWELS = (
    (730, 1090, 2440),
    (530, 1840, 2480),
    (390, 1990, 2550),
    (570, 840, 2410),
    (440, 1020, 2240),
    (660, 1720, 2410),
)


def speech(seconds: float, rms_db: float, chance: np.random.Generator) -> Samples:
    """Talk without words: syllables of a gliding voice through the formants of English vowels (Peterson and Barney
    1952), with hisses and stops between and pauses for breath."""
    count = int(seconds * RATE)
    out = np.zeros(count)
    at = 0.3
    voice = chance.uniform(95, 210)
    while at < seconds - 0.6:
        if chance.random() < 0.12:
            at += chance.uniform(0.3, 0.8)
            voice = chance.uniform(95, 210)
        lasting = chance.uniform(0.08, 0.26)
        size = int(lasting * RATE)
        time = np.arange(size) / RATE
        path = voice * 2 ** (np.linspace(chance.uniform(-2, 4), chance.uniform(-5, 2), size) / 12)
        path *= 1 + 0.008 * chance.standard_normal(size).cumsum() / np.sqrt(RATE) * 3
        turned = np.cumsum(path) / RATE
        pulses = np.diff(np.floor(turned), prepend=0.0)
        source = lfilter([1.0], [1, -0.96], pulses) + 0.01 * chance.standard_normal(size)
        syllable = source - lfilter([0.002], [1, -0.998], source)
        for formant, width in zip(VOWELS[int(chance.integers(len(VOWELS)))], (80, 100, 140), strict=True):
            radius = np.exp(-np.pi * width / RATE)
            syllable = lfilter([1 - radius], [1, -2 * radius * np.cos(2 * np.pi * formant / RATE), radius**2], syllable)
        syllable *= np.minimum(1, np.minimum(time / 0.025, (lasting - time) / 0.04)).clip(0)
        syllable *= chance.uniform(0.4, 1.0) / (np.abs(syllable).max() + 1e-12)
        begin = int(at * RATE)
        out[begin : begin + size] += syllable
        if chance.random() < 0.45:
            hiss = chance.standard_normal(int(chance.uniform(0.02, 0.11) * RATE))
            hiss = np.diff(hiss, prepend=0.0) * np.hanning(len(hiss)) * chance.uniform(0.05, 0.2)
            out[begin + size : begin + size + len(hiss)] += hiss[: max(0, count - begin - size)]
        at += lasting + chance.uniform(0.02, 0.12)
    return out * (10 ** (rms_db / 20) / np.sqrt(float((out**2).mean())))


def band(samples: Samples, low: float, high: float) -> Samples:
    """What a small microphone passes."""
    return sosfilt(butter(2, [low, high], "bandpass", fs=RATE, output="sos"), samples)


def with_automatic_gain(samples: Samples, target_db: float = -20.0) -> Samples:
    """A gain that goes down within 15 ms of a loud sound and up within half a second, at most by 24 dB."""
    slot = 64
    power = (samples[: len(samples) // slot * slot].reshape(-1, slot) ** 2).mean(axis=1)
    gains = np.empty(len(power))
    followed = 10 ** (target_db / 10)
    for number, each in enumerate(power):
        pace = slot / RATE / (0.015 if each > followed else 0.5)
        followed += (each - followed) * min(pace, 1.0)
        gains[number] = min(np.sqrt(10 ** (target_db / 10) / max(followed, 1e-12)), 10 ** (24 / 20))
    return samples[: len(gains) * slot] * np.interp(np.arange(len(gains) * slot) / slot, np.arange(len(gains)), gains)


def at_rate(samples: Samples, rate: int) -> Samples:
    """The same sound sampled at `rate`."""
    common = int(np.gcd(rate, RATE))
    return resample_poly(samples, rate // common, RATE // common)
