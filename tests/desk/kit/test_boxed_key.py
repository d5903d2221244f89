"""A key in its box."""

import pygame
import pytest

from game.desk.kit.boxed_key import draw_key, draw_words, key_width


@pytest.mark.parametrize("key", ["P", "Esc", "Enter", "Ctrl-O", "Rücktaste", "-", "+"])
def test_a_key_stands_inside_its_box(canvas, drawn, key):
    box = draw_key(canvas, key, (200, 200))
    assert box.contains(drawn(canvas))
    assert box.width == pytest.approx(key_width(canvas, key) * canvas.sheet.unit, abs=1.5)


@pytest.mark.parametrize("key", ["-", "+"])
def test_a_minus_and_a_plus_stand_in_the_middle_of_their_box(canvas, key):
    clear = canvas.surface.get_at((0, 0))
    box = draw_key(canvas, key, (200, 200)).inflate(-canvas.px(6), -canvas.px(6))
    inside = pygame.mask.from_threshold(canvas.surface.subsurface(box), clear, (2, 2, 2, 255))
    inside.invert()
    (sign,) = inside.get_bounding_rects()
    middle = box.width / 2, box.height / 2
    assert (sign.centerx, sign.centery) == pytest.approx(middle, abs=1)
    assert sign.width > (2 if key == "-" else 0.9) * sign.height


def test_words_stand_at_the_height_of_their_box(canvas):
    box = draw_key(canvas, "P", (200, 200))
    words = draw_words(canvas, "pause", (300, 200))
    assert box.top <= words.centery <= box.bottom
    assert words.left == canvas.px(300)
