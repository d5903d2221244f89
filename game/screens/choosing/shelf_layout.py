"""Where things stand on the shelf, in units of the sheet: its rows, the column of the keys, the small pages."""

from dataclasses import dataclass

from game.screens.rows_in_sight import first_in_sight
from game.screens.sheet_places import LEFT, SheetPlaces

TITLE_LEFT = 112.0

FIRST_ROW, ROW = 168.0, 43.0
"""The baseline of the first row, and from one to the next."""

PAGE_STEP = 27.0
"""From one small page to the next."""

MOST_PAGES = 8
"""So many small pages have room in a row; of more one less is shown, and how many more there are."""

_PAGE_ABOVE = 18.0
_MIDDLE_ABOVE = 9.0
_FOOT = 192.0


@dataclass(frozen=True, slots=True)
class ShelfLayout(SheetPlaces):
    """The places for a window of this size."""

    @property
    def pages_left(self) -> float:
        """Where the small pages begin."""
        return self.right - 405

    @property
    def keys_middle(self) -> float:
        """The middle of the column with the key of each tune."""
        return self.pages_left - 68

    @property
    def legend_left(self) -> float:
        """Where it is said what the small pages mean."""
        return self.right - 160

    @property
    def details(self) -> float:
        """The baseline of what is said of the chosen tune."""
        return self.height - 152

    @property
    def rows(self) -> int:
        """How many rows there is room for."""
        return max(1, int((self.height - _FOOT - FIRST_ROW) // ROW) + 1)

    def baseline(self, row: int) -> float:
        """Of a row, counted from 0 at the top."""
        return FIRST_ROW + ROW * row

    def page_at(self, row: int, number: int) -> tuple[float, float]:
        """The upper left corner of a small page: the how-manieth in its row, from 0."""
        return self.pages_left + PAGE_STEP * number, self.baseline(row) - _PAGE_ABOVE

    def spot(self, at: tuple[int, int]) -> tuple[int, int | None] | None:
        """The row at these pixels, and the how-manieth small page of it: None beside the pages, or beside the rows."""
        x, y = at[0] / self.sheet.unit, at[1] / self.sheet.unit
        row = int((y - FIRST_ROW + _MIDDLE_ABOVE + ROW / 2) // ROW)
        if not (0 <= row < self.rows and LEFT - 10 <= x < self.legend_left - 12):
            return None
        number = int((x - self.pages_left) // PAGE_STEP)
        return row, number if x >= self.pages_left and number < MOST_PAGES else None


def pages_in_sight(count: int, at: int) -> range:
    """Which of a tune's pages have room in its row, with the page `at` among them."""
    if count <= MOST_PAGES:
        return range(count)
    first = first_in_sight(chosen=at, shown=MOST_PAGES - 1, count=count)
    return range(first, first + MOST_PAGES - 1)
