"""What stands around the rows of the shelf: nothing runs into anything else, however long it is."""

from dataclasses import replace

import pytest

from game.desk.kit.canvas import Canvas
from game.screens.choosing.shelf_drawing import draw_heading, draw_words
from game.screens.choosing.shelf_layout import ShelfLayout
from game.screens.choosing.shelf_list import ShelfList
from tests.screens.table import Table

LONG = "The Long Way Home by Way of Everything that Ever Had a Name, as Played at Harvest and after it"


class NotedCanvas(Canvas):
    """Keeps what is written, with the pixels of it."""

    def write(self, text, *args, **more):
        used = super().write(text, *args, **more)
        self.written.append((text, used))
        return used


@pytest.fixture
def noted(tmp_path):
    table = Table(tmp_path, size=(960, 600))
    canvas = NotedCanvas(table.app.surface, table.context.sheet, table.context.theme)
    object.__setattr__(canvas, "written", [])
    return table.context, canvas, ShelfLayout(canvas.sheet), ShelfList(table.context)


def test_a_long_search_ends_before_the_name_of_the_player(noted):
    _, canvas, layout, shelf_list = noted
    shelf_list.show(words="w" * 40)
    draw_heading(canvas, layout, shelf_list, "Maximiliane von und zu Ahornstein-Weiden", typing=True)
    (title, heading), (_, name), (_, said) = canvas.written[:3]
    assert title == "The shelf"
    assert heading.right < said.left < said.right < name.left
    assert name.right <= canvas.sheet.px(layout.right) + 1


def test_of_a_title_that_was_cut_in_its_row_all_is_told_below(noted):
    context, canvas, layout, shelf_list = noted
    shelf_list.on_shelf = shelf_list.entries = (replace(shelf_list.entries[0], title=LONG, shipped=False),)
    draw_words(context, canvas, layout, shelf_list)
    ((said, used),) = canvas.written
    assert said.startswith(LONG[:60])
    assert used.right <= canvas.sheet.px(layout.right) + 1


def test_where_nothing_was_found_it_says_so(noted):
    context, canvas, layout, shelf_list = noted
    shelf_list.show(words="no such tune anywhere")
    draw_words(context, canvas, layout, shelf_list)
    assert len(canvas.written) == 1
