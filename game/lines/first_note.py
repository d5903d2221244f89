"""The first note anybody reads here: the C in the third space, alone in its bar. Pure."""

from fractions import Fraction
from typing import Final

from game.lines.titles import single_notes_title
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Bar, Note, NoteValue, Reading, Score
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

FIRST_NOTE: Final = pitch("C5")
"""As it is written, for the guitar."""

FIRST_HOME: Final = Place(3, 5)
"""Its home in position V of standard tuning."""

_WHOLE = NoteValue(base=Fraction(4))


def first_note_score() -> Score:
    """One bar of one whole note."""
    note = Note(onset=Fraction(0), length=_WHOLE.length, value=_WHOLE, pitch=FIRST_NOTE)
    bar = Bar(number="1", meter=Meter(), key=Key(), length=_WHOLE.length, events=(note,))
    return Score(title=single_notes_title(Key()), reading=Reading.GUITAR, bars=(bar,))


def has_first_note(neck_map: NeckMap) -> bool:
    """Whether a map has the note at that home, read as the guitar reads it: the map of whoever chose nothing has."""
    home = neck_map.home_of(FIRST_NOTE.midi - 12 * Reading.GUITAR.octaves_down)
    return neck_map.reading is Reading.GUITAR and home is not None and home.place == FIRST_HOME
