"""Words on the page: chord symbols, endings, sections, bar numbers and directions, set in the shipped text faces."""

from functools import lru_cache

import pygame

from game.desk.typography import Face, font, rendered, with_music_signs
from game.engraving.raster import Colour
from game.engraving.shapes import TextExtent, TextKind

# Face and height in staff spaces: chord symbols read from a metre away, the rest stays quiet (trade).
_LETTERING = {
    TextKind.CHORD: (Face.TITLE, 1.7),
    TextKind.WORDS: (Face.ITALIC, 1.5),
    TextKind.ENDING: (Face.TEXT, 1.3),
    TextKind.BAR_NUMBER: (Face.ITALIC, 1.15),
    TextKind.SECTION: (Face.TITLE, 1.4),
    TextKind.POSITION: (Face.TEXT, 1.5),
}
_SMALLEST_PX = 8
# Pixels to a staff space at which texts are measured: type is fitted to whole pixels, and a small size may run wider
# than a large one. From the smallest page to a large one on a big screen.
_SPACES_PX = (9, 11, 13, 16, 19, 23, 30, 45)


def rendered_on_staff(kind: TextKind, text: str, colour: Colour, space_px: int) -> tuple[pygame.Surface, int]:
    """A text in the face and size of its kind; flats and sharps of chord symbols are set as signs."""
    face, px = _lettered(kind, space_px)
    return rendered(_shown(kind, text), face, px, colour), font(face, px).get_ascent()


@lru_cache(maxsize=2000)
def measured_on_staff(kind: TextKind, text: str) -> TextExtent:
    """The room a text takes on the page, in staff spaces, whatever size the page has."""
    extents = [_measured(kind, _shown(kind, text), space_px) for space_px in _SPACES_PX]
    return TextExtent(
        max(extent.width for extent in extents),
        max(extent.rise for extent in extents),
        max(extent.drop for extent in extents),
    )


def _measured(kind: TextKind, shown: str, space_px: int) -> TextExtent:
    face, px = _lettered(kind, space_px)
    type_ = font(face, px)
    metrics = [glyph for glyph in type_.metrics(shown) if glyph]
    rise = max((glyph[3] for glyph in metrics), default=0)
    drop = max((-glyph[2] for glyph in metrics), default=0)
    # The last letter may lean out of its width; a pixel is lost to rounding.
    width = max(type_.size(shown)[0], 1) + 1
    return TextExtent(width / space_px, (rise + 0.5) / space_px, max(drop + 0.5, 0) / space_px)


def _lettered(kind: TextKind, space_px: int) -> tuple[Face, int]:
    face, spaces = _LETTERING[kind]
    return face, max(_SMALLEST_PX, round(spaces * space_px))


def _shown(kind: TextKind, text: str) -> str:
    return with_music_signs(text) if kind is TextKind.CHORD else text
