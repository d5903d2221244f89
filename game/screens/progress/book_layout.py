"""Where the pages of the book stand: side by side on their ledges, in units of the sheet."""

from dataclasses import dataclass

from game.desk.kit.book_sheet import BOOK_SHEET
from game.screens.rows_in_sight import first_in_sight
from game.screens.sheet_places import LEFT, SheetPlaces

TOP = 150.0
STEP = (290.0, 240.0)
"""From one page to the next, across and down."""

_FOOT = 110.0
_LEAST_LEDGES = 2


@dataclass(frozen=True, slots=True)
class BookLayout(SheetPlaces):
    """The places for a window of this size."""

    @property
    def columns(self) -> int:
        """How many pages stand side by side."""
        return max(1, int((self.right + STEP[0] - BOOK_SHEET[0] - LEFT) // STEP[0]))

    @property
    def ledges(self) -> int:
        """How many ledges there are."""
        return max(_LEAST_LEDGES, int((self.height - TOP - _FOOT) // STEP[1]))

    @property
    def key_rows(self) -> int:
        """How many rows of keys have room below the last ledge."""
        free = self.height - 26 - (TOP + STEP[1] * (self.ledges - 1) + BOOK_SHEET[1] + 9)
        return 2 if free > 110 else 1

    def in_sight(self, chosen: int, count: int) -> range:
        """Which of so many pages are in sight with the chosen one among them."""
        rows = -(-count // self.columns)
        first = first_in_sight(chosen=chosen // self.columns, shown=self.ledges, count=rows) * self.columns
        return range(first, min(count, first + self.columns * self.ledges))

    def place(self, number: int) -> tuple[float, float]:
        """The upper left corner of the how-manieth page in sight, from 0."""
        row, column = divmod(number, self.columns)
        return LEFT + STEP[0] * column, TOP + STEP[1] * row

    def number_at(self, at: tuple[int, int]) -> int | None:
        """Which page in sight stands at these pixels, from 0; None beside them all."""
        x, y = at[0] / self.sheet.unit - LEFT, at[1] / self.sheet.unit - TOP
        column, row = int(x // STEP[0]), int(y // STEP[1])
        inside = 0 <= column < self.columns and 0 <= row < self.ledges
        on_page = x - column * STEP[0] < BOOK_SHEET[0] and y - row * STEP[1] < BOOK_SHEET[1]
        return row * self.columns + column if inside and on_page else None
