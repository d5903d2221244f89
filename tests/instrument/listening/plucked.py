"""A small string for tests of hearing: partials that decay, a little sharp of multiples, behind a pick's noise."""

import numpy as np

RATE = 44_100


def plucked(pitch: float, seconds: float, *, rate: int = RATE, seed: int = 1, level: float = 0.2):
    """One note from its pluck on, damped at its end."""
    chance = np.random.default_rng(seed)
    at_s = np.arange(round(seconds * rate)) / rate
    base = 440 * 2 ** ((pitch - 69) / 12)
    sound = np.zeros(len(at_s))
    for partial in range(1, 25):
        hertz = partial * base * np.sqrt(1 + 6e-5 * partial**2)
        if hertz > 0.42 * rate:
            break
        strength = np.sin(0.15 * np.pi * partial) / partial / (1 + (hertz / 2500) ** 2)
        sound += strength * np.exp(-at_s * (1 + 0.25 * partial) / 1.2) * np.sin(2 * np.pi * hertz * at_s)
    sound += 0.15 * chance.standard_normal(len(at_s)) * np.exp(-at_s / 0.0015)
    return (level * sound * np.clip((seconds - at_s) / 0.015, 0, 1)).astype(np.float32)


def line(notes, *, rate: int = RATE, tail_s: float = 0.4, **how):
    """Notes of (onset in seconds, pitch), each until the next."""
    end_s = notes[-1][0] + tail_s
    sound = np.zeros(round(end_s * rate), dtype=np.float32)
    for number, (onset_s, pitch) in enumerate(notes):
        until = notes[number + 1][0] if number + 1 < len(notes) else end_s
        note = plucked(pitch, until - onset_s + 0.015, rate=rate, seed=number, **how)
        first = round(onset_s * rate)
        sound[first : first + len(note)] += note[: len(sound) - first]
    return sound


def tone(pitch: float, seconds: float, *, rate: int = RATE, level: float = 0.2):
    """A bare sine."""
    return level * np.sin(2 * np.pi * 440 * 2 ** ((pitch - 69) / 12) * np.arange(round(seconds * rate)) / rate)
