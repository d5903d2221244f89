"""A small staff with one note that turns from pencil to ink: how far it has come is how far ink fills its head."""

from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, Point
from game.desk.theme import Colour
from game.engraving.outlines import (
    ACCIDENTALS,
    LEDGER_OVERHANG,
    Sign,
    clef_sign,
    sign_image,
    sign_origin,
    sign_width,
)
from game.engraving.raster import line_px
from game.music.clef import Clef
from game.music.pitch import Pitch
from game.music.score import Reading

SMALL_STAFF: Final = (94.0, 34.0)
"""Width, and height from the top line to the bottom line, in units. Clef and ledger lines need more."""

_SPACE, _CLEF_AT, _NOTE_AT = 8.5, 4.0, 68.0


def draw_small_staff(
    canvas: Canvas, note: Pitch, ink: float, at: Point, reading: Reading = Reading.GUITAR, *, met: bool = True
) -> None:
    """The staff, the left end of its top line `at`; `ink` is how much of the head is filled, from 0 to 1: the rest is
    pencil, and a note that was not `met` is empty.
    """
    space = _SPACE * canvas.sheet.unit
    left, top = canvas.point(at)
    thick = line_px(round(space))
    for line in range(5):
        canvas.surface.fill(
            canvas.theme.pencil, (left, round(top + line * space) - thick // 2, canvas.px(SMALL_STAFF[0]), thick)
        )
    clef = reading.clef
    clef_at = (at[0] + _CLEF_AT) * canvas.sheet.unit, _step_y(top, clef.own_step, space, clef)
    _stand(canvas.surface, clef_sign(reading), clef_at, space, canvas.theme.ink)
    _draw_note(
        canvas,
        note,
        ink if met else None,
        ((at[0] + _NOTE_AT) * canvas.sheet.unit, _step_y(top, note.staff_step, space, clef)),
        top,
        clef,
    )


def _step_y(top: float, step: int, space: float, clef: Clef) -> float:
    return top + (clef.top_step - step) * space / 2


def _draw_note(canvas: Canvas, note: Pitch, ink: float | None, at: Point, top: int, clef: Clef) -> None:
    (x, y), theme, space = at, canvas.theme, _SPACE * canvas.sheet.unit
    width = sign_width(Sign.BLACK_HEAD, space)
    for step in clef.ledger_steps(note.staff_step):
        left = round(x - width / 2 - LEDGER_OVERHANG * space)
        line = (left, round(_step_y(top, step, space, clef)), round(width + 2 * LEDGER_OVERHANG * space))
        canvas.surface.fill(theme.pencil, (*line, line_px(round(space))))
    colour = theme.read if ink is not None and ink >= 1 else theme.pencil
    if note.alter:
        sign = ACCIDENTALS[note.alter]
        _stand(canvas.surface, sign, (x - width / 2 - 0.3 * space - sign_width(sign, space), y), space, colour)
    pencilled = sign_image(Sign.HALF_HEAD if ink is None else Sign.BLACK_HEAD, space, theme.pencil)
    canvas.surface.blit(pencilled, pencilled.get_rect(center=(round(x), round(y))))
    head = sign_image(Sign.BLACK_HEAD, space, theme.read)
    filled = pygame.Rect(0, 0, round(head.get_width() * min(1.0, ink or 0)), head.get_height())
    canvas.surface.blit(head, head.get_rect(center=(round(x), round(y))), filled)


def _stand(surface: pygame.Surface, sign: Sign, at: Point, space: float, colour: Colour) -> None:
    """A sign with its own origin at a point: its left, on its line."""
    image, origin = sign_image(sign, space, colour), sign_origin(sign, space)
    surface.blit(image, (round(at[0] - origin[0]), round(at[1] - origin[1])))
