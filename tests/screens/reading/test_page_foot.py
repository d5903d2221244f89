"""The foot of a page."""

import pytest

from game.desk.kit.canvas import Canvas
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.page_foot import PageFoot, draw_foot
from game.screens.reading.page_layout import PageLayout
from tests.screens.drawn_text import DrawnText
from tests.screens.reading.test_passage_climb import climb


def all_keys():
    return (*key_hints(("keys.escape", "keys.stop"), ("F8", "keys.loop")), KeyHint(("the open sixth string",), "pause"))


@pytest.fixture
def told(table, monkeypatch):
    """The texts of a foot."""

    def draw(words, *, neck=False, ladder=True):
        drawn = DrawnText(monkeypatch)
        layout = PageLayout(width=1280, height=720, clocked=True, ladder=ladder, neck=neck, string_row=True)
        canvas = Canvas(table.app.surface, table.context.sheet, table.context.theme)
        table.context.window.begin_picture()
        draw_foot(
            table.context, canvas, layout, PageFoot(keys=all_keys(), words=words, climb=climb(96) if ladder else None)
        )
        return drawn.whole

    return draw


def test_what_is_said_stands_above_the_distance_and_over_a_neck_in_its_place(told):
    distance = "One rung to signing: 96."
    assert {"Paused.", distance} <= set(told("Paused."))
    assert distance in told("", neck=True)
    assert distance not in told("Paused.", neck=True)
    assert distance not in told("Paused.", ladder=False)


def test_its_keys_can_be_clicked_and_the_row_of_the_strings_cannot(table, told):
    assert "the open sixth string" in told("")
    assert [press for _, press in table.context.window._boxes] == [hint.presses[0] for hint in all_keys()[:2]]
