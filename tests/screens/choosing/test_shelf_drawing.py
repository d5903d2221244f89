"""What stands around the rows of the shelf: nothing runs into anything else, however long it is."""

from dataclasses import replace

import pytest

from game.desk.kit.canvas import Canvas
from game.neck.neck_map import standard_map
from game.screens.choosing.hand_in_words import hand_told
from game.screens.choosing.shelf_drawing import draw_heading, draw_words
from game.screens.choosing.shelf_layout import ShelfLayout
from game.screens.choosing.shelf_list import ShelfList
from game.text.catalogue import tell
from game.tunes.library.import_results import PartsToChoose
from tests.made import score
from tests.screens.table import Table
from tests.speaking import speaking

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


@pytest.mark.parametrize("language", ["en", "de"])
def test_where_the_hand_goes_is_said_whole_however_little_room_there_is(noted, language):
    """Before the tune is opened: the rest of the line gives way to it, and then the second shift."""
    context, canvas, layout, shelf_list = noted
    entry = replace(shelf_list.entries[0], shipped=False)
    tune = score(*["A4 q, F3 q, A4 q, C5 q", "A4 q, C5 q, D6 q, E6 q"] * 60)
    for title in (entry.title, LONG):
        shelf_list.on_shelf = shelf_list.entries = (replace(entry, title=title),)
        with speaking(language):
            hand = tuple(hand_told(tune, context.settings.neck_map(), most) for most in (2, 1))
            canvas.written.clear()
            draw_words(context, canvas, layout, shelf_list, hand)
            ((said, used),) = canvas.written
            assert any(tell(one) in said for one in hand)
        assert used.right <= canvas.sheet.px(layout.right) + 1


def test_beside_where_the_hand_goes_stands_what_else_there_is_to_say(noted):
    context, canvas, layout, shelf_list = noted
    draw_words(context, canvas, layout, shelf_list, (hand_told(score("A4 q, F3 q, A4 h"), standard_map()),))
    ((said, _),) = canvas.written
    assert "notes" in said
    assert "The hand: V, bar 1 to I, back to V" in said


@pytest.mark.parametrize("language", ["en", "de"])
def test_which_part_is_asked_for_stands_above_its_keys_until_that_is_answered(noted, tmp_path, language):
    context, canvas, layout, shelf_list = noted
    names = tuple(f"{name} in B flat" for name in ("Trumpet", "Clarinet", "Bass clarinet", "Tenor saxophone"))
    with speaking(language):
        for path in (tmp_path / "duo.xml", tmp_path / f"{LONG}.xml"):
            canvas.written.clear()
            context.window.imports.to_choose = PartsToChoose(path, names)
            draw_words(context, canvas, layout, shelf_list)
            ((said, used),) = canvas.written
            assert said.endswith("…") is (path.stem == LONG)
            assert path.stem[:40] in said
            assert used.right <= canvas.sheet.px(layout.right) + 1


def test_where_nothing_was_found_it_says_so(noted):
    context, canvas, layout, shelf_list = noted
    shelf_list.show(words="no such tune anywhere")
    draw_words(context, canvas, layout, shelf_list)
    assert len(canvas.written) == 1
