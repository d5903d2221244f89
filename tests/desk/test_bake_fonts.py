"""The shipped faces are cut from Vollkorn, with musical signs and lining figures in their character maps.

The font that stands in for Vollkorn here has square letters, old-style figures, and lining ones behind `lnum`.
"""

import pygame
import pytest
from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

from game.desk import typography
from game.desk.bake_fonts import _FACES, _SIGNS, _UNICODES, bake
from game.desk.typography import Face
from game.paths import shipped

FIGURES = [f"figure{number}" for number in range(10)]


def square(side):
    pen = TTGlyphPen(None)
    pen.moveTo((0, 0))
    for corner in ((0, side), (side, side), (side, 0)):
        pen.lineTo(corner)
    pen.closePath()
    return pen.glyph()


def stand_in(path):
    letters = {code_point: f"uni{code_point:04X}" for code_point in (0x41, 0x42, 0x3B1)}
    old_style = {0x30 + number: name for number, name in enumerate(FIGURES)}
    names = [".notdef", *letters.values(), *FIGURES, *(f"{name}.lnum" for name in FIGURES)]
    builder = FontBuilder(1000)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({**letters, **old_style})
    builder.setupGlyf({name: square(700 if name.endswith(".lnum") else 400) for name in names})
    builder.setupHorizontalMetrics(dict.fromkeys(names, (500, 0)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"copyright": "whoever made it", "familyName": "Vollkorn", "psName": "Vollkorn"})
    builder.setupOS2()
    builder.setupPost()
    lining = " ".join(FIGURES), " ".join(f"{name}.lnum" for name in FIGURES)
    addOpenTypeFeaturesFromString(builder.font, f"feature lnum {{ sub [{lining[0]}] by [{lining[1]}]; }} lnum;")
    builder.save(path)


@pytest.fixture(scope="module")
def baked(tmp_path_factory):
    folder = tmp_path_factory.mktemp("vollkorn")
    for weight in _FACES:
        stand_in(folder / f"Vollkorn-{weight}.ttf")
    bake(folder, folder)
    return {file_name: TTFont(folder / f"{file_name}.ttf") for _, file_name, _ in _FACES.values()}


def test_each_face_has_the_musical_signs_and_lining_figures(baked):
    for font in baked.values():
        shown = font.getBestCmap()
        assert set(_SIGNS) <= set(shown)
        assert all(font["glyf"][shown[sign]].numberOfContours > 0 for sign in _SIGNS)
        assert [font["glyf"][shown[0x30 + number]].yMax for number in range(10)] == [700] * 10


def test_letters_that_are_not_wanted_are_cut(baked):
    for font in baked.values():
        assert 0x41 in font.getBestCmap()
        assert 0x3B1 not in font.getBestCmap()


def test_modified_faces_carry_names_of_their_own_and_say_whose_the_signs_are(baked):
    """As the Open Font License asks."""
    names = {font["name"].getDebugName(1) for font in baked.values()}
    assert names == {family for family, _, _ in _FACES.values()}
    for font in baked.values():
        assert "Bravura" in font["name"].getDebugName(0)
        assert "Vollkorn" not in (font["name"].getDebugName(1) + font["name"].getDebugName(6))


def test_the_faces_that_are_shipped_were_made_so():
    for _, file_name, _ in _FACES.values():
        shown = TTFont(shipped("content", "fonts", f"{file_name}.ttf")).getBestCmap()
        assert set(_SIGNS) <= set(shown) <= {*_UNICODES, *_SIGNS}


@pytest.mark.parametrize("face", Face)
def test_every_musical_sign_is_drawn(face):
    """The half note lies beyond U+FFFF, where the shorter character maps end."""
    pygame.font.init()
    for sign in map(chr, _SIGNS):
        assert typography.font(face, 40).render(sign, True, (0, 0, 0)).get_bounding_rect().width > 4
