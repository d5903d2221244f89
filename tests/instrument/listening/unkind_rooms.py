"""What real rooms, players and cheap electronics do to a line: none of it was asked for."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.signal import lfilter

from tests.instrument.listening.played_lines import Guitar, PlayedLine, TrueNote
from tests.instrument.listening.rendered_guitar import RATE
from tests.instrument.listening.rooms import loudness, pink
from tests.instrument.listening.string_model import OPEN_STRINGS, hertz

Samples = NDArray[np.float64]


def with_sympathetic_strings(samples: Samples, below_db: float) -> Samples:
    """The six open strings, left free, sound along with what fits their partials."""
    heard = np.zeros(len(samples))
    for string in OPEN_STRINGS:
        for partial in range(1, 9):
            radius = np.exp(-1.2 * (1 + 0.3 * partial) / RATE)
            turn = 2 * np.pi * hertz(string) * partial / RATE
            heard += lfilter([1 - radius], [1, -2 * radius * np.cos(turn), radius**2], samples) * np.sin(turn) / partial
    heard *= loudness(samples) / max(loudness(heard), 1e-12) * 10 ** (below_db / 20)
    return samples + heard


def with_struck_neighbours(line: PlayedLine, guitar: Guitar, share: float, chance: np.random.Generator) -> PlayedLine:
    """A `share` of the notes with an open string struck along, 4 to 12 dB softer and ringing for up to a second."""
    out = line.samples.copy()
    for note in line.notes:
        if chance.random() < share:
            near = [string for string in OPEN_STRINGS if 2 < abs(string - note.pitch) < 13]
            at_s = note.start_s + chance.uniform(-0.012, 0.012)
            _sound(out, guitar, int(chance.choice(near)), at_s, -chance.uniform(4, 12), chance)
    return PlayedLine(out, line.notes)


def with_lifted_fingers(line: PlayedLine, guitar: Guitar, share: float, chance: np.random.Generator) -> PlayedLine:
    """After a `share` of the notes the finger leaves the string sideways: it sounds open, 14 to 24 dB softer."""
    out = line.samples.copy()
    for note in line.notes:
        if chance.random() < share:
            open_string = max((string for string in OPEN_STRINGS if string < note.pitch), default=OPEN_STRINGS[-1])
            _sound(out, guitar, open_string, note.end_s + chance.uniform(-0.03, 0.0), -chance.uniform(14, 24), chance)
    return PlayedLine(out, line.notes)


def _sound(out: Samples, guitar: Guitar, pitch: int, at_s: float, level_db: float, chance: np.random.Generator) -> None:
    """Add one pluck that rings for up to a second."""
    seconds = chance.uniform(0.2, 1.0)
    made, begins = guitar.pluck(pitch, 90, seconds, np.zeros(int(seconds * RATE)), chance)
    made = made * 10 ** (level_db / 20)
    made[-400:] *= np.linspace(1, 0, 400)
    at = max(round(at_s * RATE) - begins, 0)
    stop = min(len(out), at + len(made))
    out[at:stop] += made[: max(stop - at, 0)]


def phone_buzz(chance: np.random.Generator) -> Samples:
    """A phone's motor against a table: some tenths of a second of a rattling tone."""
    time = np.arange(int(chance.uniform(0.3, 0.6) * RATE)) / RATE
    turned = 2 * np.pi * chance.uniform(150, 210) * time
    rattle = np.maximum(np.sin(turned), 0.4) - 0.5
    return (np.sin(turned) + 0.8 * rattle + 0.05 * chance.standard_normal(len(time))) * np.minimum(
        1, np.minimum(time / 0.03, (time[-1] - time) / 0.05)
    )


def chair(chance: np.random.Generator) -> Samples:
    """A chair that creaks: it sticks and slips at a wandering pace."""
    count = int(chance.uniform(0.25, 0.8) * RATE)
    pace = np.linspace(*chance.uniform(25, 130, 2), count) * (
        1 + 0.15 * np.cumsum(chance.standard_normal(count)) / np.sqrt(count)
    )
    slips = np.diff(np.floor(np.cumsum(pace) / RATE), prepend=0.0) * chance.uniform(0.4, 1.0, count)
    out = np.zeros(count)
    for frequency in chance.uniform(300, 2_400, 4):
        radius = np.exp(-np.pi * chance.uniform(60, 200) / RATE)
        out += lfilter([1 - radius], [1, -2 * radius * np.cos(2 * np.pi * frequency / RATE), radius**2], slips)
    return out * np.hanning(count) + 1e-9


def with_gain_changed(samples: Samples, factor: float) -> Samples:
    """Somebody turns the knob in the middle, within a tenth of a second."""
    middle = len(samples) // 2
    gain = np.interp(np.arange(len(samples)), [middle, middle + RATE // 10], [1.0, factor])
    return samples * gain


def with_holes(
    line: PlayedLine, chance: np.random.Generator, lasting_s: float = 0.5, every_s: float = 5.0
) -> PlayedLine:
    """Half a second of sound lost now and then, silence in its place; notes begun in it are not asked for.

    A note that still rings behind the hole is not asked for again.
    """
    out = line.samples.copy()
    holes = []
    at = chance.uniform(1.0, every_s)
    while at + lasting_s < line.seconds - 1:
        out[int(at * RATE) : int((at + lasting_s) * RATE)] = 0.0
        holes.append((at, at + lasting_s))
        at += lasting_s + chance.uniform(0.6, 1.4) * every_s
    return PlayedLine(out, _outside(line.notes, holes))


def _outside(notes: Sequence[TrueNote], holes: Sequence[tuple[float, float]]) -> tuple[TrueNote, ...]:
    return tuple(note for note in notes if not any(begin - 0.08 <= note.start_s <= end + 0.005 for begin, end in holes))


def overdriven(samples: Samples) -> Samples:
    """An amplifier driven: soft clipping by some 20 dB."""
    level = loudness(samples)
    return np.tanh(samples * (6.0 / level)) * 0.4


def hissing(samples: Samples, peak_db: float, hiss_db: float, chance: np.random.Generator) -> Samples:
    """The line at a level of `peak_db` against full scale, over hiss of `hiss_db` rms."""
    return (
        samples * (10 ** (peak_db / 20) / loudness(samples))
        + pink(len(samples) / RATE + 0.1, hiss_db, chance)[: len(samples)]
    )
