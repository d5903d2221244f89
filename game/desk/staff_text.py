"""Words on the page: chord symbols, endings, bar numbers and directions, set in the shipped text faces."""

import pygame

from game.desk.typography import Face, font, rendered, with_music_signs
from game.engraving.raster import Colour
from game.engraving.shapes import TextKind

# Face and height in staff spaces: chord symbols read from a metre away, the rest stays quiet (trade).
_LETTERING = {
    TextKind.CHORD: (Face.TITLE, 1.7),
    TextKind.WORDS: (Face.ITALIC, 1.5),
    TextKind.ENDING: (Face.TEXT, 1.3),
    TextKind.BAR_NUMBER: (Face.ITALIC, 1.15),
}


def rendered_on_staff(kind: TextKind, text: str, colour: Colour, space_px: int) -> tuple[pygame.Surface, int]:
    """A text in the face and size of its kind; flats and sharps of chord symbols are set as signs."""
    face, spaces = _LETTERING[kind]
    px = max(8, round(spaces * space_px))
    shown = with_music_signs(text) if kind is TextKind.CHORD else text
    return rendered(shown, face, px, colour), font(face, px).get_ascent()
