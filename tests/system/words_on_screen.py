"""Whether words stand on a picture of the game: they are set again by the game's own type, and compared dot by dot."""

from dataclasses import dataclass

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.lines_of_text import LEADING
from game.desk.kit.slip import slip_rooms
from game.desk.sheet import Sheet
from game.desk.theme import PAPER, Colour
from game.desk.typography import Face, font, rendered, shortened, text_width, wrapped
from game.screens.desk_motion import every_slip_top
from game.screens.reading.page_layout import LEFT, TITLE_BASELINE
from game.screens.setup.dialog_sheet import FOOT_HEIGHT
from game.screens.sheet_places import HEADING

_GRAIN = 12
"""By how much of 256 a dot on paper, or on a slip, may differ from the plain colour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Where the game sets a line and how, in units of a window of 1280 x 720: `units` is the size of its type. It is
    `down` so far from the upper edge of the text, `up` so far from the lower edge of the paper, stands first on a
    `slip`, wherever that lies, or has its `baseline` there, perhaps
    `after` the title of a page. Where it is too long it `breaks`, or is cut.
    """

    face: Face
    units: float
    colour: Colour
    down: float = 0.0
    up: float = 0.0
    right: float = 0.0
    breaks: bool = False
    slip: bool = False
    baseline: float = 0.0
    after: str = ""


TITLE = Line(face=Face.TITLE, units=40, colour=PAPER.ink)
PAGE_TITLE = Line(face=Face.TITLE, units=38, colour=PAPER.ink, baseline=TITLE_BASELINE)
PAGE_FACTS = Line(face=Face.ITALIC, units=23, colour=PAPER.faded, baseline=TITLE_BASELINE)
"""What a page tells of itself, after its title."""
SHELF_TITLE = Line(face=Face.TITLE, units=44, colour=PAPER.ink, baseline=HEADING)
FIRST_TITLE = Line(face=Face.TITLE, units=46, colour=PAPER.ink, baseline=92)
TODAY_TITLE = Line(face=Face.TITLE, units=42, colour=PAPER.ink, baseline=122)
BELOW_TITLE = Line(face=Face.ITALIC, units=19, colour=PAPER.faded, down=52)
SLIP = Line(face=Face.TEXT, units=22, colour=PAPER.ink, slip=True)
"""What the game says, on whatever screen."""
PROMPT = Line(face=Face.ITALIC, units=23, colour=PAPER.faded, baseline=505)
"""What a page with a ladder says of its take, above the sentence and the row of the free string."""
DIALOG_TITLE = Line(face=Face.TITLE, units=42, colour=PAPER.ink, baseline=92)
"""Of the sheets behind the settings."""
ASSIGNMENT_TITLE = Line(face=Face.TITLE, units=44, colour=PAPER.ink, baseline=92)
"""Of what a teacher set."""
SET_UP = Line(face=Face.TEXT, units=26, colour=PAPER.ink, baseline=720 - FOOT_HEIGHT - 76, breaks=True)
"""What is asked of whoever sets an instrument up."""
SECOND_INSTRUMENT = Line(face=Face.TITLE, units=26, colour=PAPER.ink, baseline=130 + 22 * LEADING + 24 + 76, right=42)
"""The second row of the instruments, while it is chosen."""


def stands(picture: pygame.Surface, line: Line, words: str) -> bool:
    """Whether these words are in that line; of several lines the first."""
    pygame.font.init()
    sheet = Sheet(picture.get_size())
    if line.slip:
        return _stands_on_slip(picture, sheet, line, words)
    room = sheet.text_area.width - sheet.px(line.right)
    px = sheet.px(line.units)
    shown = wrapped(words, line.face, px, room)[0] if line.breaks else shortened(words, line.face, px, room)
    top = sheet.paper.bottom - sheet.px(line.up) if line.up else sheet.text_area.top + sheet.px(line.down)
    at = (sheet.text_area.left + sheet.px(line.right), top)
    if line.baseline:
        at = (sheet.px(LEFT) + sheet.px(line.right), sheet.px(line.baseline) - font(line.face, px).get_ascent())
    if line.after:
        title_px = text_width(line.after, PAGE_TITLE.face, sheet.px(PAGE_TITLE.units))
        at = (sheet.px((sheet.px(LEFT) + title_px) / sheet.unit + 20), at[1])
    return stands_at(picture, rendered(shown, line.face, px, line.colour), at)


def _stands_on_slip(picture: pygame.Surface, sheet: Sheet, line: Line, words: str) -> bool:
    """Whether a slip begins with these words, in any of the places where one may lie."""
    px, canvas = sheet.px(line.units), Canvas(picture, sheet, PAPER)
    for room in slip_rooms(canvas, every_slip_top(canvas)):
        first = wrapped(words, line.face, px, sheet.px(room.width - 40))[0]
        top = sheet.px(room.top + 29) - font(line.face, px).get_ascent()
        if stands_at(picture, rendered(first, line.face, px, line.colour), (sheet.px(room.left + 20), top)):
            return True
    return False


def stands_at(picture: pygame.Surface, set_again: pygame.Surface, at: tuple[int, int]) -> bool:
    """Whether these words, set again, are there, on paper."""
    # Below the words there is room for what reaches down, and the next line may reach up into it.
    inked = set_again.get_bounding_rect()
    place = inked.move(at)
    wanted = _on_paper(set_again).subsurface(inked)
    return picture.get_rect().contains(place) and _alike(picture.subsurface(place), wanted)


def _on_paper(words: pygame.Surface) -> pygame.Surface:
    """Words as they stand on paper, where their edges are blended with it."""
    surface = pygame.Surface(words.get_size(), depth=32)
    surface.fill(PAPER.paper)
    surface.blit(words, (0, 0))
    return surface


def _alike(seen: pygame.Surface, wanted: pygame.Surface) -> bool:
    """Whether two pictures are the same but for the grain of the paper."""
    same = pygame.mask.from_threshold(seen, (0, 0, 0), (_GRAIN, _GRAIN, _GRAIN, 255), wanted)
    return same.count() == wanted.get_width() * wanted.get_height()
