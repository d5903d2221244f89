"""Words on the staff: which face and size each kind has."""

import pygame
import pytest

from game.desk.staff_text import rendered_on_staff
from game.desk.typography import Face, rendered
from game.engraving.shapes import TextKind

INK = (0, 0, 0)


@pytest.fixture(autouse=True, scope="module")
def fonts():
    pygame.font.init()


def test_chord_symbols_are_the_largest_and_have_musical_signs():
    surface, _ = rendered_on_staff(TextKind.CHORD, "Bb7", INK, 20)
    assert surface is rendered("B♭7", Face.TITLE, 34, INK)
    heights = {kind: rendered_on_staff(kind, "B7", INK, 20)[0].get_height() for kind in TextKind}
    assert max(heights, key=lambda kind: heights[kind]) is TextKind.CHORD


def test_other_words_stand_as_they_are_written():
    """A direction may begin with any letters."""
    surface, _ = rendered_on_staff(TextKind.WORDS, "Bb", INK, 20)
    assert surface is rendered("Bb", Face.ITALIC, 30, INK)


def test_the_baseline_is_told_and_lies_within():
    for kind in TextKind:
        surface, ascent = rendered_on_staff(kind, "D.C.", INK, 20)
        assert 0 < ascent <= surface.get_height()


def test_on_the_smallest_staff_words_keep_eight_pixels():
    assert rendered_on_staff(TextKind.BAR_NUMBER, "12", INK, 3)[0] is rendered("12", Face.ITALIC, 8, INK)
