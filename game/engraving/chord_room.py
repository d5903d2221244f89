"""Room for chord symbols between the notes. Pure.

verovio moves notes apart where the texts of two chord symbols would touch, but it measures them in a face of its own.
So it is given others in their stead, rows of the letter i, as wide as ours will be.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from game.engraving.chord_lane import CHORD_GAP
from game.engraving.shapes import TextKind
from game.engraving.text_extents import TextMeasure
from game.music.chords import ChordSymbol
from game.music.score import Bar

# At verovio's `lyricSize` of 2 an i is so wide, in staff spaces, and this much it leaves by itself (measured).
_I_WIDTH: Final = 0.275
_LEFT_FREE: Final = 0.4


def with_room_for_chords(bars: Sequence[Bar], measure: TextMeasure) -> tuple[Bar, ...]:
    """The bars, each chord symbol replaced by letters without a meaning that are as wide as it will be."""
    return tuple(
        replace(bar, chords=tuple(_as_wide(chord, measure) for chord in bar.chords)) if bar.chords else bar
        for bar in bars
    )


def _as_wide(chord: ChordSymbol, measure: TextMeasure) -> ChordSymbol:
    width = measure(TextKind.CHORD, chord.text).width + CHORD_GAP - _LEFT_FREE
    return replace(chord, root="", kind="", bass="", text="i" * max(1, math.ceil(width / _I_WIDTH)))
