"""Roman numerals above one line of music: the position that the hand takes at a note. Pure.

They stand nearest to the notes, below chord symbols, each beginning with its notehead (trade).
"""

from collections.abc import Mapping
from typing import Final

from game.engraving.shapes import System, Text, TextKind
from game.engraving.skyline import Skyline
from game.engraving.text_extents import TextMeasure
from game.music.written import HeadId

_ABOVE_PRINT: Final = 0.4
# However low the notes are: all numerals of low notes stand in one row.
_LOWEST: Final = 0.9
# Between two of them side by side, and from a figure of a tuplet, which would be read as part of it.
_BESIDE: Final = 0.4


def place_positions(system: System, numerals: Mapping[HeadId, str], measure: TextMeasure, skyline: Skyline) -> None:
    """Letter the numerals of those noteheads that stand on this line, each above what is there."""
    here = sorted((head for head in numerals if head in system.head_boxes), key=lambda one: system.head_boxes[one].left)
    for head in here:
        extent = measure(TextKind.POSITION, numerals[head])
        left = max(min(system.head_boxes[head].left, skyline.right - extent.width), system.left)
        top = skyline.top_over(left - _BESIDE, left + extent.width + _BESIDE)
        baseline = min(system.top_line - _LOWEST, top - _ABOVE_PRINT - extent.drop)
        text = Text(TextKind.POSITION, numerals[head], left, baseline, extent)
        system.texts.append(text)
        skyline.add((text.box,))
