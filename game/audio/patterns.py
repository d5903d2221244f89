"""Where bass and chords are struck within a bar, metre by metre. Pure.

Places are in quarter notes from the bar's first beat. The patterns are those that players' handbooks begin with (trade,
from memory): two-beat, four-beat with the bass on every beat, waltz, bossa; a jig's for compound time.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from game.music.accompanying import Manner
from game.music.meter import Meter

WALKS_FROM_BPM = 120
"""Swung from this many quarter notes a minute on, the bass is heard on every beat unless a manner is chosen (ours)."""


class BandPart(Enum):
    """Who plays."""

    BASS = "bass"
    CHORD = "chord"


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternStroke:
    """One stroke of a pattern, `at` quarter notes from the first beat and no longer than `length`."""

    at: Fraction
    length: Fraction
    part: BandPart


_EIGHTH = Fraction(1, 2)
_BOSSA_BASS = ((0, 3), (3, 1), (4, 3), (7, 1))
_BOSSA_CHORDS = ((0, 1), (2, 2), (5, 2))
"""In eighths: at, length. The bass has a heart's beat (1, 2 and, 3, 4 and), the chords 1, 2 and the off-beat of 3."""


def manner_of(manner: Manner, *, quarter_bpm: Fraction, swung: bool) -> Manner:
    """The manner itself, or what suits the tune where that is asked for."""
    if manner is not Manner.BY_TUNE:
        return manner
    return Manner.FOUR_BEAT if swung and quarter_bpm >= WALKS_FROM_BPM else Manner.TWO_BEAT


def bar_pattern(meter: Meter, manner: Manner) -> tuple[PatternStroke, ...]:
    """The strokes of a whole bar in order. Where a manner is not for this metre the metre has its own way."""
    if manner is Manner.BOSSA and meter.bar_length == 4 and meter.unit <= 4:
        found = [*_in_eighths(_BOSSA_BASS, BandPart.BASS), *_in_eighths(_BOSSA_CHORDS, BandPart.CHORD)]
    elif meter.compound:
        found = list(_jig(meter))
    else:
        found = list(_in_groups(meter, walking=manner is Manner.FOUR_BEAT))
    return tuple(sorted(found, key=lambda stroke: (stroke.at, stroke.part.value)))


def _in_eighths(places: tuple[tuple[int, int], ...], part: BandPart) -> Iterator[PatternStroke]:
    for at, length in places:
        yield PatternStroke(at=at * _EIGHTH, length=length * _EIGHTH, part=part)


def _jig(meter: Meter) -> Iterator[PatternStroke]:
    """Each beat of three: bass on its first part, the chord on its third."""
    part = meter.beat_length / 3
    for beat in range(int(meter.bar_length / meter.beat_length)):
        start = beat * meter.beat_length
        yield PatternStroke(at=start, length=meter.beat_length, part=BandPart.BASS)
        yield PatternStroke(at=start + 2 * part, length=part, part=BandPart.CHORD)


def _in_groups(meter: Meter, *, walking: bool) -> Iterator[PatternStroke]:
    """Groups of two or three pulses: bass on the first of each, chords on the others."""
    pulse, sizes = _pulse_groups(meter)
    walking = walking and set(sizes) == {2}
    start = Fraction(0)
    for size in sizes:
        for index in range(size):
            at = start + index * pulse
            if index == 0 or walking:
                yield PatternStroke(at=at, length=pulse if walking else size * pulse, part=BandPart.BASS)
            if index > 0:
                yield PatternStroke(at=at, length=pulse, part=BandPart.CHORD)
        start += size * pulse


def _pulse_groups(meter: Meter) -> tuple[Fraction, tuple[int, ...]]:
    """The length of a pulse and how many of them go together: fives as 3 + 2, sevens as 2 + 2 + 3 (trade)."""
    printed = Fraction(4, meter.unit)
    if meter.unit <= 2 and meter.beats % 3:
        return printed / 2, (2,) * meter.beats
    if meter.unit > 4 and meter.beats % 2 == 0:
        printed, beats = 2 * printed, meter.beats // 2
    else:
        beats = meter.beats
    if beats % 3 == 0:
        return printed, (3,) * (beats // 3)
    if beats % 2 == 0:
        return printed, (2,) * (beats // 2)
    if beats < 3:
        return printed, (1,)
    return printed, (3, 2) if beats == 5 else (*(2,) * ((beats - 3) // 2), 3)
