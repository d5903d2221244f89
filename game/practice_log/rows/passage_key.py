"""A name for bars by what they hold, the same wherever and whenever the tune was imported.

Two passages with the same notes in the same metre and key signature have the same passage key, whatever the title, the
bar numbers, the chord symbols and the repeat signs. It ends up in files that last: what it is made of must not change.
"""

import hashlib
from collections.abc import Sequence

from game.music.passage import Passage
from game.music.score import Bar, Note

_DIGITS = 32


def passage_key(passage: Passage) -> str:
    """32 hexadecimal digits: the first half of SHA-256 (FIPS 180-4) over the bars written as text."""
    return _key([_written(bar) for bar in passage.bars])


def _key(written: Sequence[str]) -> str:
    return hashlib.sha256("\n".join(written).encode("ascii")).hexdigest()[:_DIGITS]


def _written(bar: Bar) -> str:
    notes = " ".join(_note(note) for note in bar.notes)
    return f"{bar.meter.text} {bar.key.fifths} {bar.length} {notes}"


def _note(note: Note) -> str:
    ties = "~" * note.tied_from_previous + note.pitch.name + "~" * note.tied_to_next
    return f"{note.onset}:{note.length}:{ties}{'g' * note.grace}"
