"""Musical signs by themselves."""

import pygame
import pytest

from game.engraving.engraver import EngravedFace
from game.engraving.outlines import (
    ACCIDENTALS,
    Sign,
    sign_image,
    sign_mask,
    sign_origin,
    sign_width,
)


@pytest.mark.parametrize("face", list(EngravedFace))
@pytest.mark.parametrize("sign", list(Sign))
@pytest.mark.usefixtures("screen")
def test_every_sign_is_inked_in_both_faces(sign, face):
    surface = sign_mask(sign, 16, face)
    inked = pygame.mask.from_surface(surface)
    assert inked.count() > 3
    # Nothing is cut off at the edges.
    outer = inked.get_bounding_rects()[0].unionall(inked.get_bounding_rects())
    assert surface.get_rect().contains(outer)


def test_signs_have_the_code_points_of_smufl():
    """SMuFL `glyphnames.json`."""
    assert [Sign.FLAT.value, Sign.NATURAL.value, Sign.SHARP.value] == ["E260", "E261", "E262"]
    assert [Sign.DOUBLE_SHARP.value, Sign.DOUBLE_FLAT.value] == ["E263", "E264"]
    assert Sign.BLACK_HEAD.value == "E0A4"
    assert [Sign.G_CLEF.value, Sign.G_CLEF_8_BELOW.value] == ["E050", "E052"]
    assert set(ACCIDENTALS) == {-2, -1, 0, 1, 2}


@pytest.mark.usefixtures("screen")
def test_a_sign_grows_with_the_staff_and_takes_a_colour():
    small, large = sign_mask(Sign.SHARP, 10), sign_mask(Sign.SHARP, 30)
    assert large.get_height() == pytest.approx(3 * small.get_height(), abs=8)
    assert sign_width(Sign.SHARP, 30) == pytest.approx(3 * sign_width(Sign.SHARP, 10))
    image = sign_image(Sign.BLACK_HEAD, 30, (200, 10, 20))
    x, y = sign_origin(Sign.BLACK_HEAD, 30)
    assert tuple(image.get_at((round(x + sign_width(Sign.BLACK_HEAD, 30) / 2), round(y))))[:3] == (
        200,
        10,
        20,
    )
