"""What stands around the rows of the shelf: heading, legend, and what is said of the chosen tune."""

from collections.abc import Sequence

from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.typography import Face, shortened
from game.message import Message
from game.screens.choosing.import_words import which_part_in_words
from game.screens.choosing.shelf_layout import TITLE_LEFT, ShelfLayout
from game.screens.choosing.shelf_list import ShelfList
from game.screens.choosing.shelf_rows import draw_legend, is_cut
from game.screens.choosing.shelf_words import details_in_words, order_in_words
from game.screens.context import ScreenContext
from game.screens.sheet_places import HEADING, LEFT
from game.text.catalogue import say, tell

_MOST_OF_NAME = 240.0


def draw_heading(canvas: Canvas, layout: ShelfLayout, shelf_list: ShelfList, name: str, *, typing: bool) -> None:
    """The title, what is searched for and in which order, and who plays where there are several; then the legend."""
    quiet = Style(Face.ITALIC, 24, canvas.theme.faded)
    used = canvas.write(say("shelf.title"), (LEFT, HEADING), Style(Face.TITLE, 44, canvas.theme.ink))
    words = shelf_list.where(typing=typing), order_in_words(shelf_list.order)
    left = used.right / canvas.sheet.unit + 24
    name = shortened(name, Face.ITALIC, canvas.px(24), canvas.px(_MOST_OF_NAME))
    canvas.write(name, (layout.right, HEADING), quiet, Align.RIGHT)
    room = layout.right - left - canvas.width_of(name, quiet) - 20
    said = shortened("    ".join(filter(None, words)), Face.ITALIC, canvas.px(24), canvas.px(room))
    canvas.write(said, (left, HEADING), quiet)
    draw_legend(canvas, layout)


def draw_words(
    context: ScreenContext, canvas: Canvas, layout: ShelfLayout, shelf_list: ShelfList, hand: Sequence[Message] = ()
) -> None:
    """What is said of the chosen tune, and where the `hand` goes in it, said as long as there is room; or what to do
    where there is none. Before all that comes which part is asked for: its keys stand below.
    """
    theme, entry, to_choose = canvas.theme, shelf_list.entry, context.window.imports.to_choose
    if entry is None:
        canvas.write(say("shelf.none_found"), (TITLE_LEFT, layout.baseline(0)), Style(Face.TEXT, 25, theme.ink))
        return
    said = details_in_words(entry, context.settings.neck_map())
    if not hand and all(one.shipped for one in shelf_list.on_shelf):
        said = say("shelf.own_wanted")
    if is_cut(canvas, layout, entry.title):
        said = say("shelf.details_of", title=entry.title, details=said)
    style, room = Style(Face.ITALIC, 21, theme.faded), layout.right - TITLE_LEFT
    if to_choose is not None:
        asked = shortened(which_part_in_words(to_choose), Face.ITALIC, canvas.px(21), canvas.px(room))
        canvas.write(asked, (TITLE_LEFT, layout.details), Style(Face.ITALIC, 21, theme.accent))
        return
    whole = [say("shelf.details_and_hand", details=said, hand=one) for one in hand]
    # Where the hand goes is said nowhere else before the tune is opened: it comes before the rest.
    said = next((one for one in (*whole, *map(tell, hand)) if canvas.width_of(one, style) <= room), said)
    canvas.write(shortened(said, Face.ITALIC, canvas.px(21), canvas.px(room)), (TITLE_LEFT, layout.details), style)
