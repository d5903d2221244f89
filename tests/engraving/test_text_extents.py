"""How much room texts take where nobody letters them."""

import pygame
import pytest

from game.desk.staff_text import measured_on_staff
from game.engraving.shapes import TextKind
from game.engraving.text_extents import estimated


@pytest.mark.parametrize("kind", TextKind)
@pytest.mark.parametrize("text", ["C", "Bbmaj7(#11)/F#", "D.S. al Coda", "Interlude", "128", "1, 2."])
def test_the_estimate_is_never_less_than_the_shipped_faces_take(kind, text):
    pygame.font.init()
    real, guess = measured_on_staff(kind, text), estimated(kind, text)
    assert guess.width >= real.width - 0.3
    assert guess.rise >= real.rise - 0.3
