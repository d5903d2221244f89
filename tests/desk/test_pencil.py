"""The pencil has a little tremor, and the same mark looks the same on every frame."""

import pygame
import pytest

from game.desk import pencil
from game.desk.typography import Face

INK = (184, 72, 44)


@pytest.fixture(autouse=True, scope="module")
def screen():
    pygame.display.init()
    pygame.font.init()
    return pygame.display.set_mode((100, 100))


def pixels(surface):
    return pygame.image.tobytes(surface, "RGBA")


def box(surface):
    return surface.get_bounding_rect(min_alpha=40)


def ring(seed):
    return pencil.ring(40, 3, INK, seed)


def test_a_mark_is_the_same_for_its_seed_and_another_for_another():
    pencil.drawing.cache_clear()
    before = pixels(ring(1))
    pencil.drawing.cache_clear()
    assert pixels(ring(1)) == before
    assert pixels(ring(2)) != before


def test_a_line_lies_or_stands_and_is_about_as_long_as_asked_for():
    lying, upright = box(pencil.line(60, 3, INK, 1)), box(pencil.line(60, 3, INK, 1, upright=True))
    assert lying.width == pytest.approx(63, abs=4)
    assert lying.height < 9
    assert (upright.height, upright.width) == (pytest.approx(63, abs=4), pytest.approx(lying.height, abs=3))


def test_a_ring_goes_round_and_is_empty_inside():
    image = ring(3)
    assert box(image).size == (pytest.approx(44, abs=4), pytest.approx(44, abs=4))
    assert image.get_at(image.get_rect().center).a == 0


def test_a_notehead_is_smaller_than_a_printed_one_and_wider_than_high():
    """A printed black head is 1.18 staff spaces wide (SMuFL, Bravura's noteheadBlack)."""
    head = box(pencil.notehead(20, INK, 1))
    assert head.width < 1.18 * 20 + 4
    assert head.width > head.height


def test_a_string_number_stands_in_its_circle():
    plain, circled = pencil.letters("3", Face.FIGURES, 24, INK), pencil.circled_text("3", 24, INK, 1)
    assert box(circled).contains(box(plain).move(2, 2))
    middle = pygame.Rect(0, 0, 12, 12)
    middle.center = circled.get_rect().center
    assert box(circled.subsurface(middle)).width > 0
