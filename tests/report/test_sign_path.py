"""Musical signs as paths of the drawing library."""

import pytest

from game.engraving.engraver import EngravedFace
from game.engraving.glyphs import glyph_box
from game.report.sign_path import sign_path

# SMuFL code points (`glyphnames.json`): clefs of G and F, with and without an 8, accidentals, a black head.
SIGNS = ("E050", "E052", "E062", "E064", "E260", "E261", "E262", "E0A4")


@pytest.mark.parametrize("code", SIGNS)
def test_an_outline_fills_the_box_that_the_face_gives_it(code):
    """The box stands in the face beside the outline: an independent measure of every curve of it."""
    box, drawn = glyph_box(EngravedFace.ENGRAVED.value, code), sign_path(code).get_extents()
    assert (drawn.x0, drawn.y0, drawn.x1, drawn.y1) == pytest.approx(
        (box.left, box.top, box.right, box.bottom), abs=0.02
    )


def test_a_sign_that_no_face_has_is_refused():
    with pytest.raises(KeyError):
        sign_path("FFFF")
