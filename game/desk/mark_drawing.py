"""Drawing the pencil marks of `game.practice.pencilled` beside printed notes, on a moving or a still staff."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import pygame

from game.desk import pencil
from game.desk.theme import Theme
from game.desk.typography import Face, text_width
from game.engraving.outlines import LEDGER_OVERHANG, ledger_steps
from game.music.written import HeadId
from game.practice.pencilled import (
    Mark,
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlacedMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
)

_SIGNS = {-2: "♭♭", -1: "♭", 0: "♮", 1: "♯", 2: "♯♯"}


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteBox:
    """A printed note as the pencil sees it, in window pixels: its head, the rectangle of head, stem and accidental,
    and the bottom line of its staff. `step_y` gives the y of a line or space by `Pitch.staff_step`.
    """

    head: pygame.Rect
    group: pygame.Rect
    bottom_line_y: float
    space_px: int
    step_y: Callable[[int], float]


def draw_marks(
    surface: pygame.Surface,
    marks: Iterable[PlacedMark],
    box_of: Callable[[HeadId], NoteBox | None],
    theme: Theme,
) -> None:
    """Draw each mark whose note is in sight; `box_of` gives None for one that is not."""
    for mark in marks:
        box = box_of(mark.head)
        if box is not None:
            _draw(surface, mark.mark, box, theme, seed=mark.head.bar * 97 + mark.head.event)


def _draw(surface: pygame.Surface, mark: Mark, box: NoteBox, theme: Theme, seed: int) -> None:
    if isinstance(mark, PlayedHead):
        _draw_played_head(surface, mark, box, theme, seed)
    elif isinstance(mark, PlaceMark):
        _draw_place(surface, mark, box, theme, seed)
    elif isinstance(mark, NameMark):
        _draw_name(surface, mark, box, theme, seed)
    elif isinstance(mark, MissedMark):
        _draw_left_out(surface, box, theme, seed)
    elif isinstance(mark, SaidWrongMark):
        _draw_said_wrong(surface, box, theme, seed)
    elif isinstance(mark, OffTimeMark):
        _draw_off_time(surface, mark, box, theme, seed)
    elif isinstance(mark, PaceMark):
        _draw_pace(surface, mark, box, theme)


def _row_below(box: NoteBox) -> float:
    """Where words under a note stand: clear of the staff, and of the note where it hangs below."""
    return max(box.bottom_line_y + 1.9 * box.space_px, box.group.bottom + 0.7 * box.space_px)


def _draw_played_head(surface: pygame.Surface, mark: PlayedHead, box: NoteBox, theme: Theme, seed: int) -> None:
    """The small head stands over or under the printed one, beside it where they would touch."""
    space = box.space_px
    y = box.step_y(mark.pitch.staff_step)
    beside = abs(y - box.head.centery) < 0.9 * space
    sign = _SIGNS[mark.pitch.alter] if mark.show_sign else ""
    sign_px = round(space * 1.25)
    sign_width = text_width(sign, Face.TEXT, sign_px) if sign else 0
    image = pencil.notehead(space, theme.accent, seed)
    room = image.get_rect(center=(box.head.centerx, y))
    if beside:
        room.left = round(box.head.right + 0.05 * space + sign_width)
    surface.blit(image, room)
    if sign:
        written = pencil.letters(sign, Face.TEXT, sign_px, theme.accent)
        surface.blit(written, written.get_rect(midright=(room.left + 2, y)))
    for step in ledger_steps(mark.pitch.staff_step):
        stroke = pencil.line(room.width + LEDGER_OVERHANG * space, space * 0.09, theme.pencil, seed + step)
        surface.blit(stroke, stroke.get_rect(center=(room.centerx, box.step_y(step))))


def _draw_place(surface: pygame.Surface, mark: PlaceMark, box: NoteBox, theme: Theme, seed: int) -> None:
    colour = theme.pencil if mark.home else theme.accent
    px = max(13, round(box.space_px * 1.25))
    circle = pencil.circled_text(str(mark.place.string), px, colour, seed)
    fret = pencil.letters(str(mark.place.fret), Face.FIGURES, px, colour)
    y = _row_below(box) + circle.get_height() / 2
    left = box.head.centerx - circle.get_width() / 2
    surface.blit(circle, circle.get_rect(midleft=(left, y)))
    surface.blit(fret, fret.get_rect(midleft=(left + circle.get_width() + px * 0.12, y + px / 24)))


def _draw_name(surface: pygame.Surface, mark: NameMark, box: NoteBox, theme: Theme, seed: int) -> None:
    px = max(14, round(box.space_px * 1.5))
    written = pencil.letters(mark.text, Face.ITALIC, px, theme.accent if mark.struck else theme.pencil)
    room = written.get_rect(midtop=(box.head.centerx, _row_below(box) + mark.row * px * 0.95))
    surface.blit(written, room)
    if mark.struck:
        stroke = pencil.line(room.width * 1.15, px * 0.07, theme.accent, seed)
        surface.blit(stroke, stroke.get_rect(center=(room.centerx, room.centery + px * 0.05)))


def _above(box: NoteBox) -> float:
    """Where a sign over a note ends, clear of the staff and of the note."""
    space = box.space_px
    return min(box.group.top, box.bottom_line_y - 4 * space) - 0.5 * space


def _draw_left_out(surface: pygame.Surface, box: NoteBox, theme: Theme, seed: int) -> None:
    """A caret, as a proof-reader marks a gap."""
    space = box.space_px
    size = round(space * 1.2)
    strokes = (((2.0, 2.0), (size / 2, size * 0.75), (size - 2.0, 2.0)),)
    image = pencil.drawing(strokes, (size, size), max(1.6, space * 0.14), theme.accent, seed)
    surface.blit(image, image.get_rect(midbottom=(box.head.centerx, _above(box))))


def _draw_said_wrong(surface: pygame.Surface, box: NoteBox, theme: Theme, seed: int) -> None:
    """A small cross."""
    size = round(box.space_px * 1.2)
    far = size - 2.0
    strokes = (((2.0, 2.0), (far, far)), ((far, 2.0), (2.0, far)))
    image = pencil.drawing(strokes, (size, size), max(1.6, box.space_px * 0.13), theme.accent, seed)
    surface.blit(image, image.get_rect(midbottom=(box.head.centerx, _above(box))))


def _draw_off_time(surface: pygame.Surface, mark: OffTimeMark, box: NoteBox, theme: Theme, seed: int) -> None:
    """An arrow under a note, to the left where it came early, to the right where late: over it stand chord symbols."""
    space = box.space_px
    length, half = space * 1.5, space * 0.4
    tip, tail = (3.0, length) if mark.early else (length, 3.0)
    inward = half if mark.early else -half
    shaft = ((tail, half + 2), (tip, half + 2))
    barbs = ((tip + inward, 2.0), (tip, half + 2), (tip + inward, 2 * half + 2))
    size = (math.ceil(length + 4), math.ceil(2 * half + 5))
    image = pencil.drawing((shaft, barbs), size, max(1.5, space * 0.11), theme.pencil, seed)
    surface.blit(image, image.get_rect(midtop=(box.head.centerx, _row_below(box))))


def _draw_pace(surface: pygame.Surface, mark: PaceMark, box: NoteBox, theme: Theme) -> None:
    """Words under a note, a row below its arrow or its place."""
    px = max(14, round(box.space_px * 1.35))
    image = pencil.letters(mark.text, Face.ITALIC, px, theme.pencil)
    surface.blit(image, image.get_rect(midtop=(box.head.centerx, _row_below(box) + 1.6 * box.space_px)))
