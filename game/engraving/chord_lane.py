"""The lane of chord symbols above one line of music. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from game.engraving.shapes import System, Text, TextExtent, TextKind
from game.engraving.skyline import Skyline
from game.engraving.text_extents import TextMeasure

CHORD_GAP: Final = 0.8
"""Wanted between two chord symbols side by side, in staff spaces: about a letter, so that they read as two."""

# What is left of it where a full line is squeezed a little.
_LEAST_GAP: Final = 0.4

_ABOVE_PRINT: Final = 0.45
# A figure of a tuplet right beside a symbol would be read as part of it: such print lifts the lane as print below does.
_BESIDE: Final = 0.7
# The lane never comes nearer to the staff, however low the notes are.
_LOWEST: Final = 1.3
_BETWEEN_ROWS: Final = 0.35


@dataclass(frozen=True, slots=True)
class PlacedChord:
    """A chord symbol, the x of its moment and the room it takes, in staff spaces."""

    text: str
    x: float
    extent: TextExtent

    @property
    def right(self) -> float:
        """Where it ends."""
        return self.x + self.extent.width


def place_chords(system: System, chords: Sequence[tuple[str, float]], measure: TextMeasure, skyline: Skyline) -> None:
    """Letter a line's chord symbols, given with the x of their moments from left to right.

    All stand on one baseline, above all print under any of them and right beside. One that would touch the one before,
    as happens where a single bar is wider than the page, stands in a row above it. None runs out of the page.
    """
    rows: list[list[PlacedChord]] = []
    for text, moment in chords:
        extent = measure(TextKind.CHORD, text)
        chord = PlacedChord(text, max(min(moment, skyline.right - extent.width), system.left), extent)
        row = next((row for row in rows if row[-1].right + _LEAST_GAP <= chord.x), None)
        if row is None:
            rows.append([chord])
        else:
            row.append(chord)
    baseline = system.top_line - _LOWEST
    for row in rows:
        highest = min(skyline.top_over(chord.x - _BESIDE, chord.right + _BESIDE) - chord.extent.drop for chord in row)
        baseline = min(baseline, highest - _ABOVE_PRINT)
        texts = [Text(TextKind.CHORD, chord.text, chord.x, baseline, chord.extent) for chord in row]
        system.texts += texts
        skyline.add(text.box for text in texts)
        baseline -= max(chord.extent.rise for chord in row) + _BETWEEN_ROWS
