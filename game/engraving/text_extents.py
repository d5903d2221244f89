"""How much room a text on the page takes, in staff spaces. Pure."""

from collections.abc import Callable
from typing import Final

from game.engraving.shapes import TextExtent, TextKind

TextMeasure = Callable[[TextKind, str], TextExtent]
"""Tells the room a text of a kind takes as it is lettered on the page."""

# A letter's width and the height of capitals in a serif face (about 0.6 and 0.7 of its size), with room to spare.
_LETTER_WIDTH: Final = {
    TextKind.CHORD: 1.1,
    TextKind.WORDS: 0.85,
    TextKind.ENDING: 0.85,
    TextKind.BAR_NUMBER: 0.7,
    TextKind.SECTION: 0.95,
    TextKind.POSITION: 0.95,
}
_RISE: Final = 1.3
_DROP: Final = 0.45


def estimated(kind: TextKind, text: str) -> TextExtent:
    """The room by the number of letters, for whoever does not letter the page in the shipped faces."""
    return TextExtent((len(text) + 1) * _LETTER_WIDTH[kind], _RISE, _DROP)
