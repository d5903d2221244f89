"""The sheets of the book: small pages that stand on a ledge, and dashed ones for pages that wait."""

from typing import Final

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, blend
from game.desk.kit.ground import draw_sheet
from game.desk.theme import NIGHT, Colour, Theme

BOOK_SHEET: Final = (268.0, 219.0)
"""Width and height, in units."""

_LEDGE = 9.0
_DASHES = (8.0, 6.0)


def draw_book_sheet(canvas: Canvas, at: tuple[float, float]) -> None:
    """An empty page, its upper left corner `at`."""
    (x, y), (width, height) = at, BOOK_SHEET
    draw_sheet(canvas, canvas.rect(x, y, width, height), sheet_colour(canvas.theme), blur=4)


def draw_waiting_sheet(canvas: Canvas, at: tuple[float, float]) -> None:
    """The outline of a page that is not there yet."""
    (x, y), (width, height) = at, BOOK_SHEET
    corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)]
    draw_pencil(canvas, corners, 1.8, canvas.theme.pencil, 44, dashes=_DASHES)


def draw_ledge(canvas: Canvas, left: float, right: float, top: float) -> None:
    """The ledge that pages stand on, its upper edge at `top`."""
    theme = canvas.theme
    wood = canvas.rect(left, top, right - left, _LEDGE)
    night = theme is NIGHT
    canvas.surface.fill(blend(theme.edge, theme.pencil, 0.12) if night else blend(theme.desk, theme.pencil, 0.25), wood)
    lit = wood.copy()
    lit.height = max(1, canvas.px(1.5))
    canvas.surface.fill(blend(theme.edge, theme.pencil, 0.35) if night else blend(theme.desk, theme.paper, 0.4), lit)


def sheet_colour(theme: Theme) -> Colour:
    """A page in the book is fresher than the sheet it lies on."""
    red, green, blue = (min(255, value + 5) for value in theme.paper)
    return red, green, blue
