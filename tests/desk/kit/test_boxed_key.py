"""A key in its box."""

import pytest

from game.desk.kit.boxed_key import draw_key, draw_words, key_width


@pytest.mark.parametrize("key", ["P", "Esc", "Enter", "Ctrl-O", "Rücktaste", "−"])
def test_a_key_stands_inside_its_box(canvas, drawn, key):
    box = draw_key(canvas, key, (200, 200))
    assert box.contains(drawn(canvas))
    assert box.width == pytest.approx(key_width(canvas, key) * canvas.sheet.unit, abs=1.5)


def test_words_stand_at_the_height_of_their_box(canvas):
    box = draw_key(canvas, "P", (200, 200))
    words = draw_words(canvas, "pause", (300, 200))
    assert box.top <= words.centery <= box.bottom
    assert words.left == canvas.px(300)
