"""Text that fits its room, whatever is to be said."""

import pygame
import pytest

from game.desk.fitted_text import SMALLEST_TEXT_PX, Paragraph, draw_fitted, fitted_px, pages_of
from game.desk.typography import Face

INK = (0, 0, 0)
SENTENCE = "The bracket over this bar is not drawn as far as the repeat sign: it was read as reaching there."


@pytest.fixture(autouse=True)
def fonts():
    pygame.font.init()


def drawn(paragraphs, room, px):
    surface = pygame.Surface((1200, 900), pygame.SRCALPHA)
    taken = draw_fitted(surface, paragraphs, room, px)
    return taken, surface.get_bounding_rect()


@pytest.mark.parametrize("sentences", [1, 4, 12, 25])
@pytest.mark.parametrize("width", [600, 1100])
def test_everything_stands_in_its_room(sentences, width):
    room = pygame.Rect(40, 60, width, 420)
    text = [Paragraph(text=SENTENCE, colour=INK, face=Face.ITALIC, indent=1.5) for _ in range(sentences)]
    assert fitted_px(text, room, 25) > SMALLEST_TEXT_PX
    taken, ink = drawn(text, room, 25)
    assert room.contains(taken)
    assert room.contains(ink)


def test_what_fits_is_as_large_as_asked_and_no_larger():
    room = pygame.Rect(0, 0, 800, 800)
    assert fitted_px([Paragraph(text=SENTENCE, colour=INK)], room, 25) == 25


def test_what_never_fits_is_drawn_at_the_smallest_size():
    crowded = [Paragraph(text=SENTENCE, colour=INK)] * 200
    assert fitted_px(crowded, pygame.Rect(0, 0, 300, 100), 25) == SMALLEST_TEXT_PX


def test_an_indented_paragraph_begins_further_right():
    room = pygame.Rect(10, 10, 800, 300)
    _, plain = drawn([Paragraph(text="M", colour=INK)], room, 20)
    _, indented = drawn([Paragraph(text="M", colour=INK, indent=2)], room, 20)
    assert indented.left == plain.left + 40


def test_what_has_no_room_on_a_page_stands_on_the_next():
    """Each page at the size that was asked for, nothing lost and nothing twice; no page without anything on it."""
    room = pygame.Rect(0, 0, 600, 300)
    text = [Paragraph(text=f"{number} {SENTENCE}", colour=INK) for number in range(40)]
    pages = pages_of(text, room, 22)
    assert len(pages) > 3
    assert [one for page in pages for one in page] == text
    assert all(fitted_px(page, room, 22) == 22 for page in pages)
    assert pages_of([], room, 22) == ((),)


def test_a_paragraph_longer_than_a_page_has_one_of_its_own():
    room = pygame.Rect(0, 0, 300, 60)
    long, short = (Paragraph(text=SENTENCE * times, colour=INK) for times in (4, 1))
    assert pages_of([long, short], room, 22)[0] == (long,)
