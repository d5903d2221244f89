"""The clicks for whoever is heard through a microphone, which hears the click as well: none of them is like a string.

Each is one tone above the guitar's range (highest fret: 1,319 Hz), and over within 10 ms, where a string goes on. So
nothing of it has a pitch that could be a note, and it covers little of a string that is plucked along with it. It
swells and dies away as a bell does in a drawing (Hann's window), without a step at either end: so all of it lies in one
narrow band, which can be taken out of what the microphone hears (`game.instrument.listening.known_sound`), while a step
would sound in all the octaves that a pick does. An accent is told by its height and its loudness. Plain Python
arithmetic, so that the files come out the same wherever they are made.
"""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BrightClick:
    """One click: its height, how long all of it is, and its peak, 1 full scale."""

    name: str
    frequency_hz: float
    length_s: float
    peak: float


BRIGHT_CLICKS = (
    BrightClick(name="bright_accent", frequency_hz=2090.0, length_s=0.0095, peak=0.8),
    BrightClick(name="bright_beat", frequency_hz=1900.0, length_s=0.0095, peak=0.6),
    BrightClick(name="bright_subdivision", frequency_hz=1900.0, length_s=0.0095, peak=0.22),
)
"""No louder than the wooden clicks: none has a higher peak, nor more energy weighted as the ear does (curve A). A whole
tone apart.
"""


def bright_samples(click: BrightClick, rate: int) -> list[int]:
    """The click as 16-bit samples; a tenth of its peak is reached a millisecond after its beginning."""
    count = round(click.length_s * rate)
    bare = [_at(click, index / rate, index / count) for index in range(count)]
    loudest = max(abs(sample) for sample in bare)
    return [round(sample / loudest * click.peak * 32767) for sample in bare]


def _at(click: BrightClick, at_s: float, share: float) -> float:
    """The click at `at_s` from its start, which is that share of it, before it is brought to its peak."""
    loudness = math.sin(math.pi * share) ** 2
    return loudness * math.sin(2 * math.pi * click.frequency_hz * at_s)
