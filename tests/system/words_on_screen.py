"""Whether words stand on a picture of the game: they are set again by the game's own type, and compared dot by dot."""

from dataclasses import dataclass

import pygame

from game.desk.sheet import Sheet
from game.desk.theme import PAPER, Colour
from game.desk.typography import Face, rendered, shortened, wrapped


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Where the game sets a line and how, in units of a window of 1280 x 720: `units` is the size of its type. It is
    `down` so far from the upper edge of the text, or `up` so far from the lower edge of the paper. Where it is too
    long it `breaks`, or is cut.
    """

    face: Face
    units: float
    colour: Colour
    down: float = 0.0
    up: float = 0.0
    right: float = 0.0
    breaks: bool = False


TITLE = Line(face=Face.TITLE, units=40, colour=PAPER.ink)
BELOW_TITLE = Line(face=Face.ITALIC, units=19, colour=PAPER.faded, down=52)
FOOT = Line(face=Face.ITALIC, units=19, colour=PAPER.accent, up=68)
"""What the game says on every screen."""
PROMPT = Line(face=Face.ITALIC, units=25, colour=PAPER.faded, up=100)
"""What a page without a neck says of its take."""
SET_UP = Line(face=Face.TEXT, units=30, colour=PAPER.ink, up=200, breaks=True)
"""What is asked of whoever sets an instrument up."""
SECOND_INSTRUMENT = Line(face=Face.TEXT, units=25, colour=PAPER.ink, down=124 + 74, right=34)
"""The second row of the instruments."""


def stands(picture: pygame.Surface, line: Line, words: str) -> bool:
    """Whether these words are in that line; of several lines the first."""
    pygame.font.init()
    sheet = Sheet(picture.get_size())
    px, room = sheet.px(line.units), sheet.text_area.width - sheet.px(line.right)
    shown = wrapped(words, line.face, px, room)[0] if line.breaks else shortened(words, line.face, px, room)
    top = sheet.paper.bottom - sheet.px(line.up) if line.up else sheet.text_area.top + sheet.px(line.down)
    at = (sheet.text_area.left + sheet.px(line.right), top)
    return stands_at(picture, rendered(shown, line.face, px, line.colour), at)


def stands_at(picture: pygame.Surface, set_again: pygame.Surface, at: tuple[int, int]) -> bool:
    """Whether these words, set again, are there, on paper."""
    # Below the words there is room for what reaches down, and the next line may reach up into it.
    inked = set_again.get_bounding_rect()
    place = inked.move(at)
    wanted = _on_paper(set_again).subsurface(inked)
    return picture.get_rect().contains(place) and _dots(picture.subsurface(place)) == _dots(wanted)


def _on_paper(words: pygame.Surface) -> pygame.Surface:
    """Words as they stand on paper, where their edges are blended with it."""
    surface = pygame.Surface(words.get_size(), depth=32)
    surface.fill(PAPER.paper)
    surface.blit(words, (0, 0))
    return surface


def _dots(picture: pygame.Surface) -> bytes:
    return pygame.image.tobytes(picture, "RGB")
