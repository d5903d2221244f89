"""Which pitches are listened for, as MIDI numbers: those of a guitar, and of strings that are tuned lower. Pure."""

from typing import Final

LOWEST_PITCH: Final = 38.5
HIGHEST_PITCH: Final = 88.7
"""What is looked for: a semitone and a half below the low E to the 24th fret of the high one."""

LOWEST_HEARD: Final = 35
"""B1, the low string of seven. What is lower does not repeat often enough in the windows of a new note: of a string
model every note from B1 up was heard, A1 not where its octave rang, of G1 one in three not surely, of E1 none.
"""

SURELY_HEARD: Final = 38
"""D2, the low string of drop D. Of rendered guitars (`python -m tests.bench.listening`) nine notes in ten from it up
are heard, of those from B1 up every other.
"""

_BELOW: Final = 1.5


def lowest_looked_for(open_string: int) -> float:
    """The pitch from which on is looked where this is the lowest open string. Looking no lower than need be keeps what
    two strings have in common from being taken for a note.
    """
    return min(LOWEST_PITCH, max(open_string, LOWEST_HEARD) - _BELOW)
