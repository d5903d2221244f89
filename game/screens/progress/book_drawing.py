"""A page of the book: its music small, signed in ink, or in pencil as long as it waits; and its back."""

from dataclasses import dataclass, replace
from datetime import date

import pygame

from game.desk.kit.book_sheet import BOOK_SHEET, draw_book_sheet, draw_waiting_sheet
from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.fitted_line import SMALLEST, fitted
from game.desk.kit.lines_of_text import LEADING, draw_text_lines, text_lines
from game.desk.kit.signature import SigningRoom, draw_name, draw_strokes
from game.desk.theme import NIGHT, Colour
from game.desk.typography import Face
from game.music.meter import Meter
from game.player.kept_signature import PlayerSignature
from game.screens.progress.book_pages import BookPage
from game.screens.progress.book_words import (
    back_in_words,
    book_in_words,
    day_in_words,
    signed_tempo_in_words,
    waiting_in_words,
)
from game.screens.progress.page_pictures import PICTURE
from game.screens.sheet_places import HEADING, LEFT
from game.text.catalogue import say

_MARGIN = 16.0
_TITLE, _MUSIC, _BACK, _FOOT = 34.0, 46.0, 68.0, 202.0
_TITLE_SIZE, _FOOT_SIZE, _MORE_SIZE = 23.0, 22.0, 22.0
_APART = 22.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPage:
    """A page as it is shown: its picture and its metre where its bars are on the shelf, or its back with the tempi that
    were kept.
    """

    page: BookPage
    picture: pygame.Surface | None = None
    meter: Meter | None = None
    signature: PlayerSignature | None = None
    chosen: bool = False
    turned: bool = False
    gone: bool = False
    kept_bpms: tuple[int, ...] = ()
    today: date


def draw_book_heading(
    canvas: Canvas, right: float, pages: tuple[BookPage, ...], out_of_sight: tuple[int, int]
) -> tuple[pygame.Rect, pygame.Rect]:
    """The title, what the pages come to, and how many of them are `out_of_sight` above and below; where each of these
    two was written.
    """
    theme = canvas.theme
    used = canvas.write(say("book.title"), (LEFT, HEADING), Style(Face.TITLE, 44, theme.ink))
    left = used.right / canvas.sheet.unit + _APART
    said, quiet = book_in_words(pages), Style(Face.ITALIC, _MORE_SIZE, theme.faded)
    room = right - left - canvas.width_of(said, replace(quiet, size=SMALLEST))
    rects = []
    for words in reversed(_more_in_words(canvas, out_of_sight, quiet, room)):
        rects.append(canvas.write(words, (right, HEADING), quiet, Align.RIGHT) if words else pygame.Rect(0, 0, 0, 0))
        right -= canvas.width_of(words, quiet) + _APART if words else 0.0
    said, style = fitted(canvas, said, replace(quiet, size=24.0), right - left)
    canvas.write(said, (left, HEADING), style)
    return rects[1], rects[0]


def _more_in_words(canvas: Canvas, out_of_sight: tuple[int, int], style: Style, room: float) -> tuple[str, str]:
    """How many pages are above and below; in figures, where the words have no room."""
    keys, arrows = ("book.more_above", "book.more_below"), ("↑", "↓")
    above, below = (say(key, count=count) if count else "" for key, count in zip(keys, out_of_sight, strict=True))
    if sum(canvas.width_of(words, style) + _APART for words in (above, below) if words) > room:
        above, below = (f"{arrow} {count}" if count else "" for arrow, count in zip(arrows, out_of_sight, strict=True))
    return above, below


def draw_page(canvas: Canvas, at: tuple[float, float], shown: ShownPage) -> None:
    """Draw a page, its upper left corner `at`."""
    signed, theme = shown.page.signed is not None, canvas.theme
    ink = theme.read if signed else theme.faded
    if signed:
        draw_book_sheet(canvas, at)
    else:
        draw_waiting_sheet(canvas, at)
    left, width = at[0] + _MARGIN, BOOK_SHEET[0] - 2 * _MARGIN
    used = _draw_title(canvas, (left, at[1] + _TITLE), width, shown.page, ink)
    if shown.chosen:
        right = used.right / canvas.sheet.unit
        stroke = [(left - 3, at[1] + _TITLE + 8), ((left + right) / 2, at[1] + _TITLE + 7), (right, at[1] + _TITLE + 6)]
        draw_pencil(canvas, stroke, 5.0, theme.accent, 17)
    if shown.turned:
        _draw_back(canvas, at, shown)
        return
    _draw_music(canvas, at, shown)
    _draw_foot(canvas, at, shown)


def _draw_title(canvas: Canvas, at: tuple[float, float], width: float, page: BookPage, ink: Colour) -> pygame.Rect:
    """The tune and its bars; of a long title what there is room for, of the bars all."""
    style = Style(Face.TITLE, _TITLE_SIZE, ink)
    bars = say("book.bars", first=page.first, last=page.figures.last)
    title, style = fitted(canvas, page.title, style, width - canvas.width_of(bars, style))
    used = canvas.write(title, at, style)
    return used.union(canvas.write(bars, (used.right / canvas.sheet.unit, at[1]), style))


def draw_first_wanted(canvas: Canvas, at: tuple[float, float]) -> None:
    """The place of the first page, as long as there is none."""
    draw_waiting_sheet(canvas, at)
    style = Style(Face.ITALIC, 24, canvas.theme.faded)
    draw_text_lines(canvas, say("book.first"), (at[0] + 30, at[1] + 92), style, BOOK_SHEET[0] - 60)


def _draw_music(canvas: Canvas, at: tuple[float, float], shown: ShownPage) -> None:
    left = at[0] + _MARGIN - 1
    if shown.picture is not None:
        blending = pygame.BLEND_RGB_MAX if canvas.theme is NIGHT else pygame.BLEND_RGB_MIN
        x, y = canvas.point((left, at[1] + _MUSIC))
        down = max(0, canvas.px(PICTURE[1]) - shown.picture.get_height()) // 2
        canvas.surface.blit(shown.picture, (x, y + down), special_flags=blending)
    elif shown.gone:
        style = Style(Face.ITALIC, 21, canvas.theme.faded)
        draw_text_lines(canvas, say("book.off_shelf"), (left, at[1] + 90), style, BOOK_SHEET[0] - 2 * _MARGIN)


def _draw_foot(canvas: Canvas, at: tuple[float, float], shown: ShownPage) -> None:
    left, right, baseline = at[0] + _MARGIN, at[0] + BOOK_SHEET[0] - _MARGIN, at[1] + _FOOT
    page, theme = shown.page, canvas.theme
    if page.signed is None:
        quiet = Style(Face.ITALIC, _FOOT_SIZE, theme.faded)
        words, style = fitted(canvas, waiting_in_words(page), quiet, right - left)
        canvas.write(words, (left, baseline), style)
        return
    tempo = signed_tempo_in_words(page, shown.meter)
    left = canvas.write(tempo, (left, baseline), Style(Face.TITLE, _FOOT_SIZE, theme.read)).right / canvas.sheet.unit
    day = day_in_words(page.named or page.signed, shown.today)
    used = canvas.write(day, (right, baseline), Style(Face.ITALIC, _FOOT_SIZE, theme.read), Align.RIGHT)
    right = used.left / canvas.sheet.unit
    if page.named and shown.signature is not None:
        room = SigningRoom(left + 10, baseline - 34, max(1.0, right - left - 20), 44.0)
        if shown.signature.strokes:
            draw_strokes(canvas, shown.signature.strokes, room, theme.read, 1.0)
        else:
            draw_name(canvas, shown.signature.typed, room, theme.read, 1.0)
    elif page.unnamed and not shown.gone:
        _draw_line_to_sign(canvas, left + 12, right - 12, baseline)


def _draw_line_to_sign(canvas: Canvas, left: float, right: float, baseline: float) -> None:
    """Where the player's name belongs, in pencil."""
    line = [(left, baseline + 3), (right, baseline + 2)]
    draw_pencil(canvas, line, 2.4, canvas.theme.pencil, 23, dashes=(7.0, 5.0))
    quiet = Style(Face.ITALIC, 20, canvas.theme.pencil)
    words, style = fitted(canvas, say("book.your_name"), quiet, right - left)
    canvas.write(words, ((left + right) / 2, baseline - 3), style, Align.CENTRE)


def _draw_back(canvas: Canvas, at: tuple[float, float], shown: ShownPage) -> None:
    """What was played of it: takes, days, tempi, as much as has room."""
    baseline, width = at[1] + _BACK, BOOK_SHEET[0] - 2 * _MARGIN
    style = Style(Face.TEXT, 20, canvas.theme.ink)
    for sentence in back_in_words(shown.page, shown.kept_bpms, shown.today):
        lines = len(text_lines(canvas, sentence, style, width))
        if baseline + (lines - 1) * LEADING * style.size > at[1] + _FOOT + 4:
            break
        baseline = draw_text_lines(canvas, sentence, (at[0] + _MARGIN, baseline), style, width) + 2
