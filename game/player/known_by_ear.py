"""Which tunes this player knows by ear, by their own word: their marks, one a line, beside the practice log.

Reading what the ear knows proves little about reading. A tune is known by its melody as a whole, in whatever key and
octave: the ear does not mind. A disk that refuses changes nothing: the word holds until the game is left.
"""

import hashlib
import re
from pathlib import Path

from game.music.passage import Passage, whole_tune
from game.player.id_files import read_ids, write_ids

EAR_FILE = "known-by-ear.txt"
_DIGITS = 32
_MARK = re.compile(rf"[0-9a-f]{{{_DIGITS}}}")


def tune_id(passage: Passage) -> str:
    """32 hexadecimal digits for the tune a passage is from: the first half of SHA-256 (FIPS 180-4) over its onsets,
    lengths and steps from its first note, in semitones. It ends up in files that last: it must not change.
    """
    notes = whole_tune(passage.score).notes
    text = " ".join(f"{note.onset}:{note.length}:{note.sounding - notes[0].sounding}" for note in notes)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:_DIGITS]


def read_known_by_ear(folder: Path) -> frozenset[str]:
    """The marks of the tunes known by ear; none where nothing was kept or can be read."""
    return frozenset(read_ids(folder / EAR_FILE, _MARK))


def write_known_by_ear(marks: frozenset[str], folder: Path) -> None:
    """Keep the marks of all tunes known by ear."""
    write_ids(folder / EAR_FILE, sorted(marks))
