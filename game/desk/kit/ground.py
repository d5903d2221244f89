"""The desk and the sheets that lie on it, with their grain: painted once for a window and a look, then only copied."""

import random
from functools import lru_cache

import pygame

from game.desk.kit.canvas import Canvas, blend
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, Colour, Theme

READING_TOP, TABBED_TOP = 26.0, 64.0
"""Where the paper begins, in units: on pages that are read, and below the tabs."""

LEFT, RIGHT_MARGIN, BOTTOM_MARGIN = 26.0, 32.0, 26.0
"""From the paper to the edges of the window, in units."""

_GRAIN_PX = 256
_WOOD_PX = 2
_SHADOW = (30, 20, 5)
# How much paper and wood vary, in steps of 256: seen from close, felt from a metre.
_PAPER_GRAIN, _WOOD_GRAIN, _WOOD_GRAIN_AT_NIGHT = 2, 9, 4


def paper_rect(sheet: Sheet, top: float) -> pygame.Rect:
    """The pixels of the uppermost sheet, which begins at `top` units."""
    x, y = sheet.px(LEFT), sheet.px(top)
    width, height = sheet.size
    return pygame.Rect(x, y, width - sheet.px(RIGHT_MARGIN) - x, height - sheet.px(BOTTOM_MARGIN) - y)


def draw_ground(canvas: Canvas, top: float) -> None:
    """Fill the window: the desk, the next sheet a little below, and the sheet that begins at `top` units."""
    canvas.surface.blit(ground(canvas.sheet.size, canvas.theme, top), (0, 0))


@lru_cache(maxsize=4)
def ground(size: tuple[int, int], theme: Theme, top: float) -> pygame.Surface:
    """The empty desk of a window with its paper. Kept and given out again: do not draw on it."""
    surface = pygame.Surface(size)
    canvas = Canvas(surface, Sheet(size), theme)
    _lay_wood(surface, theme)
    paper = paper_rect(canvas.sheet, top)
    under = paper.move(canvas.px(6), canvas.px(5))
    under.width -= canvas.px(2)
    draw_sheet(canvas, under, under_colour(theme), blur=10)
    draw_sheet(canvas, paper, theme.paper, blur=5)
    return surface


def under_colour(theme: Theme) -> Colour:
    """Paper in shade: the sheet below, and tabs of other sheets."""
    return blend(theme.paper, theme.edge, 0.55)


def draw_sheet(canvas: Canvas, rect: pygame.Rect, colour: Colour, *, blur: float = 5) -> None:
    """A sheet of paper with its grain and a soft shadow of `blur` units, 0 for none."""
    if blur:
        _draw_shadow(canvas, rect, blur)
    # A little lighter before the grain takes from it: what is filled flat beside it has the same colour on the whole.
    red, green, blue = (min(255, value + _PAPER_GRAIN // 2) for value in colour)
    canvas.surface.fill((red, green, blue), rect)
    clip = canvas.surface.get_clip()
    canvas.surface.set_clip(rect.clip(clip))
    tile = _paper_grain()
    for x in range(rect.left, rect.right, _GRAIN_PX):
        for y in range(rect.top, rect.bottom, _GRAIN_PX):
            canvas.surface.blit(tile, (x, y), special_flags=pygame.BLEND_RGB_SUB)
    canvas.surface.set_clip(clip)


def _draw_shadow(canvas: Canvas, rect: pygame.Rect, blur: float) -> None:
    """A shadow below and around a rectangle: a small picture of it, made large and so soft."""
    step = max(1, canvas.px(blur))
    margin = 3
    small = pygame.Surface((rect.width // step + 2 * margin + 1, rect.height // step + 2 * margin + 1), pygame.SRCALPHA)
    small.fill((*_SHADOW, 0))
    dark = 150 if canvas.theme is NIGHT else 80
    inside = (margin, margin, max(1, rect.width // step), max(1, rect.height // step))
    pygame.draw.rect(small, (*_SHADOW, dark), inside)
    size = small.get_width() * step, small.get_height() * step
    place = rect.left - margin * step, rect.top - margin * step + canvas.px(5)
    canvas.surface.blit(pygame.transform.smoothscale(small, size), place)


@lru_cache(maxsize=1)
def _paper_grain() -> pygame.Surface:
    """A tile of what the tooth of the paper takes away from its colour."""
    levels = bytes(value * (_PAPER_GRAIN + 1) // 256 for value in range(256))
    noise = random.Random(5).randbytes(_GRAIN_PX * _GRAIN_PX).translate(levels)
    return _grey(noise, (_GRAIN_PX, _GRAIN_PX))


def _grey(values: bytes, size: tuple[int, int]) -> pygame.Surface:
    pixels = bytearray(3 * len(values))
    for channel in range(3):
        pixels[channel::3] = values
    return pygame.image.frombuffer(bytes(pixels), size, "RGB")


def _lay_wood(surface: pygame.Surface, theme: Theme) -> None:
    """Wood: rows of uneven darkness that run across and sway a little, darker towards the edges."""
    surface.fill(theme.desk)
    width, height = surface.get_size()
    grain = _WOOD_GRAIN_AT_NIGHT if theme is NIGHT else _WOOD_GRAIN
    rows = _grey(_smooth_rows(height // _WOOD_PX + 24, grain), (1, height // _WOOD_PX + 24))
    board = pygame.transform.scale(rows, (width, rows.get_height() * _WOOD_PX))
    sway = _sway(width)
    for x in range(0, width, 4):
        surface.blit(board, (x, sway[x] - 12), (x, 0, 4, board.get_height()), special_flags=pygame.BLEND_RGB_SUB)
    surface.blit(_vignette((width, height)), (0, 0), special_flags=pygame.BLEND_RGB_SUB)


def _smooth_rows(count: int, grain: int) -> bytes:
    chance = random.Random(3)
    rough = [chance.gauss(0, 1) for _ in range(count + 4)]
    smooth = [sum(rough[row : row + 5]) / 5 for row in range(count)]
    return bytes(min(255, max(0, round((value + 1.2) * grain / 2))) for value in smooth)


def _sway(width: int) -> list[int]:
    """How far each column of the wood is shifted down: a smooth curve through some points by chance."""
    chance = random.Random(4)
    knots = [chance.uniform(-10, 10) for _ in range(9)]
    step = width / (len(knots) - 1)
    shifts = []
    for x in range(width):
        knot = min(int(x / step), len(knots) - 2)
        along = x / step - knot
        ease = along * along * (3 - 2 * along)
        shifts.append(round(knots[knot] + (knots[knot + 1] - knots[knot]) * ease))
    return shifts


def _vignette(size: tuple[int, int]) -> pygame.Surface:
    side = 33
    middle = side // 2
    values = bytes(
        round(9 * (((x - middle) / middle) ** 2 + ((y - middle) / middle) ** 2))
        for y in range(side)
        for x in range(side)
    )
    return pygame.transform.smoothscale(_grey(values, (side, side)), size)
