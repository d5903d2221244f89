"""Which intervals a voice sings with ease."""

from game.music.pitch import Pitch

# Semitones by letters apart: steps, thirds, perfect fourths and fifths, sixths, the octave. Augmented and diminished
# ones and sevenths are left to those who mean them (common practice of melody writing, trade).
_PLAIN = {0: (0,), 1: (1, 2), 2: (3, 4), 3: (5,), 4: (7,), 5: (8, 9), 7: (12,)}


def is_plain(before: Pitch, after: Pitch) -> bool:
    """Whether an interval is a plain one as it is spelled, up or down."""
    return abs(after.midi - before.midi) in _PLAIN.get(abs(after.staff_step - before.staff_step), ())
