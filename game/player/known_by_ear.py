"""Which tunes this player knows by ear, by their own word: what such a tune is called in their log.

Reading what the ear knows proves little about reading. A tune is known by its melody as a whole, in whatever key and
octave: the ear does not mind.
"""

import hashlib

from game.music.passage import Passage, whole_tune

_DIGITS = 32


def tune_id(passage: Passage) -> str:
    """32 hexadecimal digits for the tune a passage is from: the first half of SHA-256 (FIPS 180-4) over its onsets,
    lengths and steps from its first note, in semitones. It ends up in files that last: it must not change.
    """
    notes = whole_tune(passage.score).notes
    text = " ".join(f"{note.onset}:{note.length}:{note.sounding - notes[0].sounding}" for note in notes)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:_DIGITS]
