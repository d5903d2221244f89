"""Which octave a keyboard player reads in, told from the first notes.

A keyboard player may play the guitar page where it sounds, or as it stands an octave higher.
"""

from collections.abc import Sequence
from dataclasses import replace

from game.instrument.decoding.played import PlayedNote

FIRST_NOTES = 8
_OCTAVES = (0, 1, -1, 2, -2)


def octaves_above(expected: Sequence[int], played: Sequence[int]) -> int:
    """How many octaves above the expected sounding pitches the first notes were played; 0 when nothing else fits
    better. Looks at the first eight notes and needs at least half of them to agree on another octave.
    """
    pairs = list(zip(expected[:FIRST_NOTES], played[:FIRST_NOTES], strict=False))

    def agreeing(octaves: int) -> int:
        return sum(sounding - wanted == 12 * octaves for wanted, sounding in pairs)

    best = max(_OCTAVES, key=agreeing)
    return best if best and agreeing(best) * 2 >= len(pairs) and agreeing(best) > agreeing(0) else 0


def lowered(played: Sequence[PlayedNote], octaves: int) -> tuple[PlayedNote, ...]:
    """The same notes, `octaves` lower."""
    return tuple(replace(note, sounding=note.sounding - 12 * octaves) for note in played)
