"""Swing: where written eighths are expected, and which ratio the player really played.

A ratio is long:short, 1 is straight. Soloists stay below 2:1 in medium tempi and come towards 1:1 in fast
ones (Friberg & Sundström 2002). Only a quarter note divided into two eighths swings: triplets, sixteenths and
a dotted eighth with its sixteenth are played as written, and so is compound time (trade).
"""

from collections.abc import Sequence
from fractions import Fraction
from statistics import median

from game.errors import TakeError

STRAIGHT = 1.0
MEDIUM_SWING = 1.6
FAST_SWING = 1.2
WIDEST_IN_TIME = 2.2
"""The largest ratio whose off-beats are in time whatever the tolerance."""

SLOWEST_FAST_BPM = 200.0
"""From here on a tempo is fast (ours; published ratios fall gradually)."""

SMALLEST_SWING, LARGEST_SWING = 1.0, 3.5
_HALF = Fraction(1, 2)


def default_swing(tempo_bpm: float) -> float:
    """The ratio expected of a swung tune at a tempo in quarter notes a minute."""
    return FAST_SWING if tempo_bpm >= SLOWEST_FAST_BPM else MEDIUM_SWING


def checked_swing(swing: float) -> float:
    """The ratio itself. Raises `TakeError` outside 1 to 3.5."""
    if not SMALLEST_SWING <= swing <= LARGEST_SWING:
        raise TakeError("judging.swing_out_of_range", swing=swing, lowest=SMALLEST_SWING, highest=LARGEST_SWING)
    return swing


def off_beat_share(swing: float) -> float:
    """How far into its quarter note the off-beat eighth comes: 1/2 straight, 0.615 at 1.6:1."""
    return swing / (1 + swing)


def swung_off_beats(beat_positions: Sequence[Fraction | None]) -> tuple[bool, ...]:
    """Which notes are off-beat eighths that swing.

    `beat_positions` are the notes' onsets in quarters counted so that quarter beats fall on whole numbers, in
    rising order; None where the metre does not swing.
    """
    divided_otherwise = {
        position // 1 for position in beat_positions if position is not None and position % 1 not in (0, _HALF)
    }
    return tuple(
        position is not None and position % 1 == _HALF and position // 1 not in divided_otherwise
        for position in beat_positions
    )


def played_swing(
    beat_positions: Sequence[Fraction | None], off_beats: Sequence[bool], answered_s: Sequence[float | None]
) -> float | None:
    """The player's own ratio: the median of long:short over beats played whole, None when there are none.

    All three run over the notes. `answered_s` is when each was played, None when it was not. A beat counts
    when its own beat, its off-beat and the next beat were all played, each after the other.
    """
    ratios = []
    for index in range(1, len(off_beats) - 1):
        before, position, after = beat_positions[index - 1 : index + 2]
        if not off_beats[index] or before is None or position is None or after is None:
            continue
        if position - before != _HALF or after - position != _HALF:
            continue
        start_s, middle_s, end_s = answered_s[index - 1 : index + 2]
        if start_s is not None and middle_s is not None and end_s is not None and start_s < middle_s < end_s:
            ratios.append((middle_s - start_s) / (end_s - middle_s))
    return median(ratios) if ratios else None
