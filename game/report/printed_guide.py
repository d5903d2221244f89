"""A guide of one page, as PDF: what the game is for, and what each of its sheets says."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from fpdf import FPDF
from fpdf.enums import XPos, YPos

from game.paths import shipped
from game.report.printed_pages import FACES, Paper
from game.text.catalogue import say

_MARGIN_MM, _GAP_MM = 15.0, 7.0
_TITLE_PT, _TEXT_PT, _CAPTION_PT = 22.0, 10.5, 9.5
_LINE: Final = 1.32
_POINT_MM: Final = 25.4 / 72
_COLUMNS: Final = 2
_CAPTION_LINES: Final = 3


@dataclass(frozen=True, slots=True)
class GuidePicture:
    """A picture of the window, 16 to 9, and the words below it."""

    path: Path
    words: str


def printed_guide(pictures: Sequence[GuidePicture], paper: Paper = Paper.A4) -> bytes:
    """One page as PDF: a title, a few sentences, and the pictures in two columns with their words below."""
    pdf = FPDF(unit="mm", format=paper.value)
    pdf.set_auto_page_break(auto=False)
    pdf.set_creator("Homefret")
    for name, file in FACES.items():
        pdf.add_font(name, fname=shipped("content", "fonts", f"{file}.ttf"))
    pdf.add_page()
    _write(pdf, "title", _TITLE_PT, say("guide.title"))
    _write(pdf, "text", _TEXT_PT, say("guide.text"))
    top = pdf.get_y() + _GAP_MM / 2
    width = (pdf.w - 2 * _MARGIN_MM - _GAP_MM) / _COLUMNS
    height = width * 9 / 16
    row_mm = height + (_CAPTION_LINES + 1) * _CAPTION_PT * _LINE * _POINT_MM
    for number, picture in enumerate(pictures):
        row, column = divmod(number, _COLUMNS)
        x, y = _MARGIN_MM + column * (width + _GAP_MM), top + row * row_mm
        pdf.image(picture.path, x=x, y=y, w=width, h=height)
        pdf.set_xy(x, y + height + 1)
        _write(pdf, "italic", _CAPTION_PT, picture.words, left=x, width=width)
    pdf.set_xy(_MARGIN_MM, pdf.h - _MARGIN_MM - 8)
    _write(pdf, "italic", _CAPTION_PT, say("guide.care"))
    return bytes(pdf.output())


def _write(
    pdf: FPDF, face: str, size_pt: float, text: str, *, left: float = _MARGIN_MM, width: float | None = None
) -> None:
    """A paragraph from here down."""
    pdf.set_font(face, size=size_pt)
    pdf.set_text_color(32, 29, 26)
    pdf.set_x(left)
    pdf.multi_cell(
        width or pdf.w - 2 * _MARGIN_MM,
        size_pt * _LINE * _POINT_MM,
        text,
        align="L",
        new_x=XPos.LEFT,
        new_y=YPos.NEXT,
    )
