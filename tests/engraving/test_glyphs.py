"""Outlines and boxes of musical signs, from the faces verovio ships."""

import pytest

from game.engraving.engraver import EngravedFace
from game.engraving.glyphs import glyph, glyph_box
from game.engraving.outlines import Sign


def test_an_engraved_notehead_fills_a_space_and_sits_in_the_middle_of_it():
    """SMuFL: four staff spaces to the em, so a notehead is about 250 units high, centred on its line or
    space.
    """
    box = glyph(EngravedFace.ENGRAVED.value, Sign.BLACK_HEAD.value).box
    assert box.bottom - box.top == pytest.approx(1.0, abs=0.1)
    assert box.bottom == pytest.approx(-box.top, abs=0.05)


def test_a_handwritten_notehead_leans_out_of_its_space_but_is_centred():
    box = glyph(EngravedFace.HANDWRITTEN.value, Sign.BLACK_HEAD.value).box
    assert 1.0 < box.bottom - box.top < 1.5
    assert box.bottom == pytest.approx(-box.top, abs=0.1)


def test_a_sign_no_face_has_is_an_error():
    with pytest.raises(KeyError, match="no glyph FFFF in Leland"):
        glyph("Leland", "FFFF")


def test_a_box_is_in_staff_spaces_with_y_downwards_from_the_baseline():
    """A sharp stands about one space and a half above and below its line in every face (SMuFL engraving defaults)."""
    box = glyph_box("Leland", Sign.SHARP.value)
    assert box.top == pytest.approx(-1.4, abs=0.2)
    assert box.bottom == pytest.approx(1.4, abs=0.2)
    assert box.left < box.right


def test_a_sign_a_face_lacks_comes_from_verovios_own():
    """Every sign of ours is in every face by now, so one is asked for that only verovio's own face has."""
    import re
    from importlib.util import find_spec
    from pathlib import Path

    folder = Path(find_spec("verovio").submodule_search_locations[0]) / "data"
    codes = {
        face: set(re.findall(r'<g c="(\w+)"', (folder / f"{face}.xml").read_text())) for face in ("Leland", "Leipzig")
    }
    missing = sorted(codes["Leipzig"] - codes["Leland"])
    assert missing
    assert glyph("Leland", missing[0]) == glyph("Leipzig", missing[0])
