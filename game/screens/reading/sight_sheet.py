"""First sight on the whole sheet: a title, how it is read and by which clock; the rest is music.

What can be done before it is read stands in the corner, or in the heading where the last line of music reaches so low.
"""

from dataclasses import dataclass

import pygame

from game.desk.kit.boxed_key import BETWEEN
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.ground import BOTTOM_MARGIN
from game.desk.kit.key_rows import Keyed, KeyRoom, draw_key_rows, keyed_width
from game.desk.typography import Face, shortened
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.reading.page_layout import LEFT, TITLE_BASELINE
from game.screens.shown_keys import draw_keys, draw_next

MUSIC_LEFT, MUSIC_TOP = 112.0, 108.0
"""Where the music begins, in units: left of it stands the count."""

MUSIC_FOOT, COVER_FOOT = 40.0, 188.0
"""From the lower edge of the window up to the music, and to the cover of a page that lies face down."""

_RIGHT = 72.0
_TITLE_SIZE, _HOW_SIZE, _TEMPO_SIZE = 38.0, 24.0, 28.0
_BETWEEN, _TO_TEMPO, _TO_CORNER = 20.0, 40.0, 24.0
_KEYS_ABOVE_BASELINE, _SENTENCE, _LINE = 7.0, 120.0, 32.0
# The corner with its words is as high, with a little air.
_CORNER_HEIGHT = 92.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SightSheet:
    """What stands around the music. `enter` is what Enter does, none while it is read, and `corner` the same in the
    words of the corner; `sentences` are said below a page that lies face down, `how` beside the title. `keys` are told
    in the heading, `hands` what a guitar does.
    """

    title: str
    how: str
    tempo: str
    covered: bool
    sentences: tuple[str, ...] = ()
    enter: KeyHint | None = None
    corner: str = ""
    keys: tuple[KeyHint, ...] = ()
    hands: tuple[KeyHint, ...] = ()


def music_room(canvas: Canvas) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the music, in units."""
    width, height = (px / canvas.sheet.unit for px in canvas.sheet.size)
    return MUSIC_LEFT, MUSIC_TOP, width - _RIGHT, height - MUSIC_FOOT


def corner_is_free(canvas: Canvas, lowest_px: int) -> bool:
    """Whether music whose lowest print is there leaves the corner alone."""
    return lowest_px <= above_corner_px(canvas)


def above_corner_px(canvas: Canvas) -> int:
    """How far down music may be drawn where the corner is turned up."""
    return canvas.px(canvas.sheet.size[1] / canvas.sheet.unit - BOTTOM_MARGIN - _CORNER_HEIGHT)


def draw_sight_sheet(context: ScreenContext, canvas: Canvas, sheet: SightSheet, *, corner: bool) -> None:
    """Draw all but the music; `corner` where what Enter does has room in the corner."""
    in_heading = sheet.keys if corner or sheet.enter is None else (sheet.enter, *sheet.keys)
    _draw_heading(context, canvas, sheet, in_heading)
    foot = None
    if corner and sheet.enter is not None:
        foot = draw_next(context, canvas.surface, sheet.corner) - _TO_CORNER
    if not sheet.covered:
        return
    if sheet.hands:
        draw_keys(context, canvas.surface, sheet.hands, right=foot)
    style = Style(Face.ITALIC, _HOW_SIZE, canvas.theme.faded)
    baseline = canvas.sheet.size[1] / canvas.sheet.unit - _SENTENCE
    for number, sentence in enumerate(reversed(sheet.sentences)):
        shown = shortened(sentence, style.face, canvas.px(style.size), canvas.sheet.text_area.width)
        canvas.write(shown, (LEFT, baseline - _LINE * number), style)


def sentences_rect(canvas: Canvas, sheet: SightSheet) -> pygame.Rect:
    """The pixels of what is said below a page that lies face down, and of the title where there is room for both."""
    baseline = canvas.sheet.size[1] / canvas.sheet.unit - _SENTENCE
    top, width = baseline - _LINE * len(sheet.sentences), canvas.sheet.size[0] / canvas.sheet.unit - LEFT - _RIGHT
    return canvas.rect(LEFT, top, width, baseline + _LINE - top)


def _draw_heading(context: ScreenContext, canvas: Canvas, sheet: SightSheet, keys: tuple[KeyHint, ...]) -> None:
    right = canvas.sheet.size[0] / canvas.sheet.unit - _RIGHT
    tempo = Style(Face.TEXT, _TEMPO_SIZE, canvas.theme.ink)
    if sheet.tempo:
        canvas.write(sheet.tempo, (right, TITLE_BASELINE), tempo, Align.RIGHT)
        right -= canvas.width_of(sheet.tempo, tempo) + _TO_TEMPO
    right = _draw_keys(context, canvas, keys, right) - _BETWEEN
    title, how = Style(Face.TITLE, _TITLE_SIZE, canvas.theme.ink), Style(Face.ITALIC, _HOW_SIZE, canvas.theme.faded)
    of_how = min(canvas.width_of(sheet.how, how), (right - LEFT) / 2)
    shown = shortened(sheet.title, title.face, canvas.px(title.size), canvas.px(right - LEFT - _BETWEEN - of_how))
    x = canvas.write(shown, (LEFT, TITLE_BASELINE), title).right / canvas.sheet.unit + _BETWEEN
    canvas.write(shortened(sheet.how, how.face, canvas.px(how.size), canvas.px(right - x)), (x, TITLE_BASELINE), how)


def _draw_keys(context: ScreenContext, canvas: Canvas, keys: tuple[KeyHint, ...], right: float) -> float:
    """The keys in the heading, ending at `right`; returns where they begin."""
    keyed = [Keyed(key.labels, key.meaning) for key in keys]
    left = right - sum(keyed_width(canvas, key) for key in keyed) - BETWEEN * max(0, len(keyed) - 1)
    room = KeyRoom(left, right + 1, TITLE_BASELINE - _KEYS_ABOVE_BASELINE)
    context.window.tell_keys(keys)
    for key, boxes in zip(keys, draw_key_rows(canvas, keyed, room), strict=True):
        for box, press in zip(boxes, key.presses, strict=True):
            context.window.let_click(box, press)
    return left
