"""Small pages."""

import pygame
import pytest

from game.desk.kit.small_page import PageMark, draw_small_page


def share_of_ink(canvas, rect):
    part = canvas.surface.subsurface(rect)
    mask = pygame.mask.from_threshold(part, canvas.theme.read, (30, 30, 30, 255))
    return mask.count() / (rect.width * rect.height)


@pytest.mark.parametrize(
    ("mark", "least", "most"),
    [
        (PageMark.NONE, 0.0, 0.0),
        (PageMark.FOUND, 0.0, 0.0),
        (PageMark.IN_TIME, 0.4, 0.75),
        (PageMark.SIGNED_OFF, 0.75, 1.0),
    ],
)
def test_the_farther_the_reading_the_more_ink(canvas, mark, least, most):
    rect = draw_small_page(canvas, mark, (200, 200))
    assert least <= share_of_ink(canvas, rect) <= most


def test_all_four_differ_in_greyscale_too(canvas):
    pictures = set()
    for mark in PageMark:
        canvas.surface.fill(canvas.theme.paper)
        rect = draw_small_page(canvas, mark, (200, 200))
        pictures.add(pygame.image.tobytes(pygame.transform.grayscale(canvas.surface.subsurface(rect)), "RGB"))
    assert len(pictures) == len(PageMark)


def test_a_drop_of_ink_tells_what_was_read_whatever_the_practice_came_to(canvas):
    """In greyscale too, and nowhere but on the corner."""
    for mark in PageMark:
        pictures = []
        for read in (False, True):
            canvas.surface.fill(canvas.theme.paper)
            rect = draw_small_page(canvas, mark, (200, 200), read=read)
            pictures.append(pygame.transform.grayscale(canvas.surface))
        corner = pygame.Rect(0, 0, rect.width, rect.width)
        corner.center = rect.topright
        with_drop, without = (picture.subsurface(corner) for picture in pictures)
        assert pygame.image.tobytes(with_drop, "RGB") != pygame.image.tobytes(without, "RGB")
        for picture in pictures:
            picture.fill((0, 0, 0), corner)
        assert pygame.image.tobytes(pictures[0], "RGB") == pygame.image.tobytes(pictures[1], "RGB")
