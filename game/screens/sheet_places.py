"""What sheets with a heading and rows or pages below it have in common: their margins and heading, in units."""

from dataclasses import dataclass

from game.desk.sheet import Sheet

LEFT, HEADING = 70.0, 122.0
"""Where text begins, and the baseline of the heading."""

_RIGHT_MARGIN = 68.0


@dataclass(frozen=True, slots=True)
class SheetPlaces:
    """The places for a window of this size."""

    sheet: Sheet

    @property
    def right(self) -> float:
        """Where the text ends."""
        return self.sheet.width - _RIGHT_MARGIN

    @property
    def height(self) -> float:
        """Of the window."""
        return self.sheet.height
