"""Musical signs by themselves, as masks of any size: for words on the page and for pencil marks on the
staff.

They come from the outlines verovio ships and need no toolkit, so they are there before the first staff is
engraved.
"""

import math
from enum import Enum
from functools import lru_cache
from typing import Final

import pygame

from game.engraving.engraver import EngravedFace
from game.engraving.glyphs import GLYPH_UNITS_PER_SPACE, clef_code, glyph
from game.engraving.raster import Colour, tinted, white_from_svg
from game.music.score import Reading

_MARGIN_PX: Final = 1
_KEPT: Final = 256
# Ledger lines stand out beside the head by this much, in staff spaces (trade).
LEDGER_OVERHANG: Final = 0.35


class Sign(Enum):
    """Signs by their SMuFL code points (`glyphnames.json`)."""

    DOUBLE_FLAT = "E264"
    FLAT = "E260"
    NATURAL = "E261"
    SHARP = "E262"
    DOUBLE_SHARP = "E263"
    HALF_HEAD = "E0A3"
    BLACK_HEAD = "E0A4"
    G_CLEF = "E050"
    G_CLEF_8_BELOW = "E052"
    F_CLEF = "E062"
    F_CLEF_8_BELOW = "E064"


ACCIDENTALS: Final = {
    -2: Sign.DOUBLE_FLAT,
    -1: Sign.FLAT,
    0: Sign.NATURAL,
    1: Sign.SHARP,
    2: Sign.DOUBLE_SHARP,
}


@lru_cache(maxsize=_KEPT)
def sign_mask(sign: Sign, space_px: float, face: EngravedFace = EngravedFace.ENGRAVED) -> pygame.Surface:
    """A sign in white on clear, at `space_px` pixels to a staff space. Kept and given out again: do not
    draw on it.
    """
    outline = glyph(face.value, sign.value)
    box = outline.box
    per_px = GLYPH_UNITS_PER_SPACE / space_px
    width = math.ceil((box.right - box.left) * space_px) + 2 * _MARGIN_PX
    height = math.ceil((box.bottom - box.top) * space_px) + 2 * _MARGIN_PX
    left = box.left * GLYPH_UNITS_PER_SPACE - _MARGIN_PX * per_px
    top = box.top * GLYPH_UNITS_PER_SPACE - _MARGIN_PX * per_px
    return white_from_svg(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="{left} {top} {width * per_px} {height * per_px}">'
        f'<path fill="#fff" transform="scale(1,-1)" d="{outline.path}"/></svg>'
    )


@lru_cache(maxsize=_KEPT)
def sign_image(
    sign: Sign, space_px: float, colour: Colour, face: EngravedFace = EngravedFace.ENGRAVED
) -> pygame.Surface:
    """A sign in a colour. Kept and given out again: do not draw on it."""
    return tinted(sign_mask(sign, space_px, face), colour)


def sign_origin(sign: Sign, space_px: float, face: EngravedFace = EngravedFace.ENGRAVED) -> tuple[float, float]:
    """Where in its mask the sign's own origin lies: its left, and the line or space it sits on, in pixels."""
    box = glyph(face.value, sign.value).box
    return _MARGIN_PX - box.left * space_px, _MARGIN_PX - box.top * space_px


def sign_width(sign: Sign, space_px: float, face: EngravedFace = EngravedFace.ENGRAVED) -> float:
    """The width of the sign itself in pixels."""
    box = glyph(face.value, sign.value).box
    return (box.right - box.left) * space_px


def clef_sign(reading: Reading) -> Sign:
    """The clef of a page, with its 8 where the page sounds an octave lower."""
    return Sign(clef_code(reading))
