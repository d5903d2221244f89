"""Staff and neck with the ink of the player's map, as Today and the end of a sitting show them: made once, then only
drawn, so that it can be kept for the first frame of the next start.
"""

from dataclasses import replace
from typing import Final

import msgspec
import pygame

from game.desk.kit.by_pencil import draw_ring
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.ink_staff import StaffRoom, draw_ink_staff
from game.desk.kit.inked import draw_dot
from game.desk.kit.note_fill import FilledNote, FilledPlace, empty_colour
from game.desk.typography import Face
from game.music.score import Reading
from game.neck.hand import USUAL_HAND

_TO_NECK: Final = 86.0
"""From the lowest line of the staff to the neck, in units."""

_TO_LEGEND: Final = 52.0
_LEGEND_SIZE = 22.0
_HIGHEST_PRINT: Final = 14.0
"""How far above its room the highest note may stand, in units."""


class InkSheet(msgspec.Struct, frozen=True, kw_only=True):
    """What is drawn of a map: its notes from the lowest on, and its places from the fret `first` to the fret `last`.
    `second` is the position of a region that is joined to the first, `span` how many frets lie under the fingers.
    `in_ink`, `in_pencil` and `not_met` are counts of pitches, in words.
    """

    notes: tuple[FilledNote, ...]
    places: tuple[FilledPlace, ...]
    first: int
    last: int
    position: int
    strings: int
    left_handed: bool
    reading: Reading
    in_ink: str
    in_pencil: str
    not_met: str
    capo: int = 0
    second: int | None = None
    span: int = USUAL_HAND.span


def draw_ink_sheet(
    canvas: Canvas, sheet: InkSheet, room: StaffRoom, *, neck_height: float, legend: bool = True
) -> pygame.Rect:
    """Staff, neck below it and legend; returns the pixels of all of it, to be clicked."""
    room = _fitted(sheet, replace(room, reading=sheet.reading))
    draw_ink_staff(canvas, sheet.notes, room)
    neck = InkNeck(
        left=room.left,
        top=room.top + 4 * room.space + _TO_NECK,
        width=room.right - room.left,
        height=neck_height,
        first=sheet.first,
        last=sheet.last,
        position=sheet.position,
        strings=sheet.strings,
        left_handed=sheet.left_handed,
        capo=sheet.capo,
        second=sheet.second,
        span=sheet.span,
    )
    draw_ink_neck(canvas, neck, sheet.places)
    bottom = neck.top + neck.height
    if legend:
        bottom += _TO_LEGEND
        _draw_legend(canvas, sheet, (room.left, bottom), room.right)
    top = room.top - 3 * room.space
    return canvas.rect(room.left, top, room.right - room.left, bottom + 8 - top)


def _fitted(sheet: InkSheet, room: StaffRoom) -> StaffRoom:
    """The room of a staff, lower and closer where notes stand far above or below it."""
    heights = [room.y_of(note.written) for note in sheet.notes] or [room.top]
    above = max(0.0, room.top - 2 * room.space - _HIGHEST_PRINT - min(heights))
    below = max(0.0, max(heights) - (room.top + 4 * room.space + _TO_NECK - 36))
    if not below:
        return room
    share = (4 * room.space + _TO_NECK - 36) / (4 * room.space + _TO_NECK - 36 + below + above)
    return replace(room, space=room.space * share)


def _draw_legend(canvas: Canvas, sheet: InkSheet, at: tuple[float, float], right: float) -> None:
    """How many pitches are in ink, in pencil and not met."""
    theme, (left, baseline) = canvas.theme, at
    words = ((sheet.in_ink, theme.ink), (sheet.in_pencil, theme.ink), (sheet.not_met, theme.faded))
    styles = [Style(Face.TEXT, _LEGEND_SIZE, colour) for _, colour in words]
    widths = [26 + canvas.width_of(text, style) for (text, _), style in zip(words, styles, strict=True)]
    between = min(26.0, (right - left - sum(widths)) / 2)
    for number, ((text, _), style, width) in enumerate(zip(words, styles, widths, strict=True)):
        middle = (left + 9, baseline - 7)
        if number == 0:
            draw_dot(canvas, middle, 18, theme.read)
        elif number == 1:
            draw_ring(canvas, middle, 17, 2.4, theme.pencil, 3)
        else:
            draw_dot(canvas, middle, 18, theme.paper, ring=empty_colour(canvas))
        canvas.write(text, (left + 26, baseline), style)
        left += width + between
