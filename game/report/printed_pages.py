"""Music on paper, as PDF: for an evening without a screen; engraved as on the desk, with the fonts in the file."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from typing import Final

from fpdf import FPDF
from fpdf.svg import SVGObject

from game.desk.typography import with_music_signs
from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.layout import lay_out_page
from game.engraving.shapes import STAFF_HEIGHT_SPACES, Box, System, Text, TextKind, bounding_box, boxes_of
from game.music.score import Bar, Reading
from game.music.written import HeadId
from game.paths import shipped
from game.text.catalogue import say

SPACE_MM: Final = 1.9
"""From one staff line to the next: a staff of 7.6 mm, as in music for one player (rastral sizes 1 to 3 are 7.0 to
7.9 mm; common practice, from memory).
"""

_MARGIN_MM, _BETWEEN_MM, _FOOT_MM = 16.0, 6.0, 12.0
_TITLE_PT, _FACTS_PT, _FOOT_PT = 20.0, 11.0, 9.0
_POINT_MM: Final = 25.4 / 72
_STAFF_LINE = 0.09
_INK, _QUIET = "#201d1a", (110, 103, 92)
FACES: Final = {"title": "HomefretText-SemiBold", "text": "HomefretText-Regular", "italic": "HomefretText-Italic"}
_LETTERING = {
    TextKind.CHORD: ("title", 1.7),
    TextKind.WORDS: ("italic", 1.5),
    TextKind.ENDING: ("text", 1.3),
    TextKind.BAR_NUMBER: ("italic", 1.15),
    TextKind.SECTION: ("title", 1.4),
    TextKind.POSITION: ("text", 1.5),
}
"""Face and height in staff spaces, as on the desk."""


class Paper(Enum):
    """Sheets of paper, by their width and height in mm: ISO 216, and ANSI/ASME Y14.1's A."""

    A4 = (210.0, 297.0)
    LETTER = (215.9, 279.4)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPiece:
    """Some bars to be printed: their title, a line of `facts` below it, how they are read, and the `numerals` of the
    positions in which the hand is, by notehead.
    """

    title: str
    facts: str
    bars: Sequence[Bar]
    reading: Reading
    numerals: Mapping[HeadId, str] = field(default_factory=dict)


def printed_pages(pieces: Sequence[PrintedPiece], paper: Paper = Paper.A4) -> bytes:
    """The pieces one after another as a PDF; a line of music is never divided between pages. Raises `ValueError` where
    a piece cannot be engraved.
    """
    pdf = _Pages(paper)
    for piece in pieces:
        pdf.draw_piece(piece)
    return bytes(pdf.output())


class _Pages(FPDF):
    """Pages that fill from the top: `_y` is how far, in mm."""

    def __init__(self, paper: Paper) -> None:
        super().__init__(unit="mm", format=paper.value)
        self.set_auto_page_break(auto=False)
        self.set_creator("Homefret")
        for name, file in FACES.items():
            self.add_font(name, fname=shipped("content", "fonts", f"{file}.ttf"))
        self._y = self.h

    def draw_piece(self, piece: PrintedPiece) -> None:
        """Its title with the first line, then the other lines, on as many pages as they need."""
        width = (self.w - 2 * _MARGIN_MM) / SPACE_MM
        systems = lay_out_page(piece.bars, piece.reading, width, numerals=piece.numerals).systems
        self._want(22 + _height_mm(systems[0]))
        self._write_heading(piece)
        for system in systems:
            self._want(_height_mm(system))
            self._draw(system)

    def footer(self) -> None:
        """The number of the page."""
        self._letter("italic", _FOOT_PT, _QUIET)
        words = say("print.page", number=self.page_no())
        self.text((self.w - self.get_string_width(words)) / 2, self.h - _FOOT_MM / 1.5, words)

    def _want(self, height_mm: float) -> None:
        """A new page where so much has no room on this one."""
        if self._y + height_mm > self.h - _MARGIN_MM - _FOOT_MM / 2:
            self.add_page()
            self._y = _MARGIN_MM

    def _write_heading(self, piece: PrintedPiece) -> None:
        self._letter("title", _TITLE_PT, (32, 29, 26))
        self._y += _TITLE_PT * _POINT_MM
        self.text(_MARGIN_MM, self._y, self._shortened(piece.title))
        self._letter("italic", _FACTS_PT, _QUIET)
        self._y += 1.5 * _FACTS_PT * _POINT_MM
        self.text(_MARGIN_MM, self._y, self._shortened(piece.facts))
        self._y += _BETWEEN_MM

    def _shortened(self, text: str) -> str:
        room = self.w - 2 * _MARGIN_MM
        if self.get_string_width(text) <= room:
            return text
        while text and self.get_string_width(f"{text}…") > room:
            text = text[:-1]
        return f"{text.rstrip()}…"

    def _draw(self, system: System) -> None:
        extent = _extent(system)
        SVGObject(_svg(system, extent)).draw_to_page(self, _MARGIN_MM, self._y)
        for text in system.texts:
            self._write(text, system, extent)
        self._y += _height_mm(system)

    def _write(self, text: Text, system: System, extent: Box) -> None:
        face, spaces = _LETTERING[text.kind]
        self._letter(face, spaces * SPACE_MM / _POINT_MM, (32, 29, 26))
        words = with_music_signs(text.text) if text.kind is TextKind.CHORD else text.text
        x = text.x - system.left - (self.get_string_width(words) / SPACE_MM if text.ends_at_x else 0)
        self.text(_MARGIN_MM + x * SPACE_MM, self._y + (text.baseline - extent.top) * SPACE_MM, words)

    def _letter(self, face: str, size_pt: float, colour: tuple[int, int, int]) -> None:
        self.set_font(face, size=size_pt)
        self.set_text_color(*colour)


def _height_mm(system: System) -> float:
    extent = _extent(system)
    return (extent.bottom - extent.top) * SPACE_MM + _BETWEEN_MM


def _extent(system: System) -> Box:
    staff = Box(system.left, system.top_line, system.right, system.top_line + STAFF_HEIGHT_SPACES)
    return bounding_box((staff, *boxes_of(system), *(text.box for text in system.texts)))


def _svg(system: System, extent: Box) -> str:
    """The print of a line without its words, as wide as its staff, from the top of its extent."""
    width, height = system.right - system.left, extent.bottom - extent.top
    view = f"0 0 {_units(width)} {_units(height)}"
    size = f'width="{width * SPACE_MM:.3f}mm" height="{height * SPACE_MM:.3f}mm"'
    body = "".join(_shapes(system)).replace('stroke="#fff"', f'stroke="{_INK}"')
    moved = f'<g fill="{_INK}" transform="translate({_units(-system.left)},{_units(-extent.top)})">{body}</g>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" {size}>{moved}</svg>'


def _shapes(system: System) -> Iterator[str]:
    left, right = _units(system.left), _units(system.right)
    rows = (_units(system.top_line + line) for line in range(int(STAFF_HEIGHT_SPACES) + 1))
    outline = "".join(f"M{left},{row}H{right}" for row in rows)
    yield f'<path d="{outline}" stroke="{_INK}" stroke-width="{_units(_STAFF_LINE)}"/>'
    yield from (shape.svg for shape in (*system.opening, *system.ground))
    yield from (shape.svg for shapes in system.groups.values() for shape in shapes)
    yield from (shape.svg for join in system.joins for shape in join.shapes)


def _units(spaces: float) -> int:
    return round(spaces * UNITS_PER_SPACE)
