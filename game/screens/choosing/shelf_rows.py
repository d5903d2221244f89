"""The rows of the shelf: each tune with its key and its small pages, and what they mean."""

from dataclasses import dataclass

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.small_page import SMALL_PAGE, PageMark, draw_small_page
from game.desk.part_in_view import Followed
from game.desk.typography import Face, shortened, with_music_signs
from game.screens.choosing.shelf_layout import PAGE_STEP, ROW, TITLE_LEFT, ShelfLayout, pages_in_sight
from game.screens.sheet_places import LEFT
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry

_TITLE_SIZE, _BESIDE_SIZE, _KEY_SIZE = 27.0, 22.0, 23.0
_LEGEND = (
    (PageMark.FOUND, "shelf.page.found"),
    (PageMark.IN_TIME, "shelf.page.in_time"),
    (PageMark.SIGNED_OFF, "shelf.page.signed"),
    (PageMark.NONE, "shelf.page.read"),
)
_LEGEND_STEP = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfRow:
    """A tune in its row, from 0 at the top. `beside` stands beside its title. `pages` are its marks in order, none
    as long as they are not known; those in `read` were right at sight, `at` is the one that would be opened, and
    `picked` where the player picked it. `new` since it came just now.
    """

    row: int
    entry: ShelfEntry
    beside: str
    pages: tuple[PageMark, ...] = ()
    read: frozenset[int] = frozenset()
    at: int = 0
    chosen: bool = False
    picked: bool = False
    new: bool = False


def draw_row(canvas: Canvas, layout: ShelfLayout, row: ShelfRow) -> None:
    """Draw a tune in its row."""
    theme, baseline = canvas.theme, layout.baseline(row.row)
    if row.chosen:
        stroke = [(62, baseline - 8), (80, baseline - 10), (99, baseline - 9)]
        draw_pencil(canvas, stroke, 6.0, theme.accent, 31)
    key = with_music_signs(row.entry.key)
    canvas.write(key, (layout.keys_middle, baseline), Style(Face.TEXT, _KEY_SIZE, theme.faded), Align.CENTRE)
    _draw_title(canvas, layout.keys_middle - 40, baseline, row)
    _draw_pages(canvas, layout, row)


def followed_of(canvas: Canvas, layout: ShelfLayout, row: ShelfRow) -> Followed:
    """What is to be seen of the chosen row: its title, or the page that was picked."""
    top, height = layout.baseline(row.row) - ROW + 14, ROW
    left, width = LEFT - 10, 200.0
    if row.picked:
        shown = pages_in_sight(len(row.pages), row.at)
        left, width = layout.page_at(row.row, row.at - shown.start)[0] - PAGE_STEP, 3 * PAGE_STEP
    most = canvas.rect(LEFT - 10, top, layout.legend_left - LEFT, height)
    return Followed(most, canvas.rect(left, top, width, height))


def draw_legend(canvas: Canvas, layout: ShelfLayout) -> None:
    """What the small pages mean, at the right margin."""
    for number, (mark, words) in enumerate(_LEGEND):
        top = layout.page_at(0, 0)[1] + _LEGEND_STEP * number
        draw_small_page(canvas, mark, (layout.legend_left, top), 70 + number, read=mark is PageMark.NONE)
        style = Style(Face.ITALIC, _BESIDE_SIZE, canvas.theme.faded)
        canvas.write(say(words), (layout.legend_left + SMALL_PAGE[0] + 10, top + 19), style)


def is_cut(canvas: Canvas, layout: ShelfLayout, title: str) -> bool:
    """Whether a title is longer than its row, when it is chosen."""
    return (
        canvas.width_of(title, Style(Face.TITLE, _TITLE_SIZE, canvas.theme.ink)) > layout.keys_middle - 40 - TITLE_LEFT
    )


def _draw_title(canvas: Canvas, right: float, baseline: float, row: ShelfRow) -> None:
    """The title, as far as it has room, and beside it what there is room left for."""
    theme, face = canvas.theme, Face.TITLE if row.chosen else Face.TEXT
    x = TITLE_LEFT
    if row.new:
        used = canvas.write(say("shelf.new"), (x, baseline), Style(Face.ITALIC, _BESIDE_SIZE, theme.accent))
        x = used.right / canvas.sheet.unit + 12
    px = canvas.px(_TITLE_SIZE)
    title = shortened(row.entry.title, face, px, canvas.px(right - x))
    used = canvas.write(title, (x, baseline), Style(face, _TITLE_SIZE, theme.ink))
    x = used.right / canvas.sheet.unit + 18
    px = canvas.px(_BESIDE_SIZE)
    beside = shortened(row.beside, Face.ITALIC, px, max(0, canvas.px(right - x)))
    if beside.rstrip("…"):
        canvas.write(beside, (x, baseline), Style(Face.ITALIC, _BESIDE_SIZE, theme.faded))


def _draw_pages(canvas: Canvas, layout: ShelfLayout, row: ShelfRow) -> None:
    shown = pages_in_sight(len(row.pages), row.at)
    for place, number in enumerate(shown):
        left, top = layout.page_at(row.row, place)
        draw_small_page(canvas, row.pages[number], (left, top), number % 7, read=number in row.read)
        if row.chosen and number == row.at:
            line = [(left - 2, top + SMALL_PAGE[1] + 5), (left + SMALL_PAGE[0] + 2, top + SMALL_PAGE[1] + 4)]
            draw_pencil(canvas, line, 4.0, canvas.theme.accent, 8)
    if more := len(row.pages) - len(shown):
        at = layout.pages_left + PAGE_STEP * len(shown) + 2, layout.baseline(row.row) + 2
        canvas.write(f"+{more}", at, Style(Face.FIGURES, 20, canvas.theme.faded))
