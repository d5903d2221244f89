"""The note that was really played: a small head where it would stand, or its name."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import pygame

from game.desk import pencil
from game.desk.theme import Theme
from game.desk.typography import Face
from game.music.names import NoteNames, name_in, spelling_of
from game.practice.pencilled import Mark, PlayedHead

_SIGNS = {-2: "♭♭", -1: "♭", 0: "♮", 1: "♯", 2: "♯♯"}
# How far from the printed head a small one is clear of it, in lines and spaces: a third. Beyond the spaces next to the
# staff, counted from its lowest line, it would stand among chord symbols or on ledger lines.
_CLEAR_STEPS = 2
_STAFF_STEPS = range(-1, 10)
_STEPS_OF_OCTAVE = 7
# How music writes an octave or two, up and down (trade).
_OCTAVES = {7: "8va", -7: "8vb", 14: "15ma", -14: "15mb"}


class PrintedNote(Protocol):
    """What is asked of a printed note."""

    @property
    def head(self) -> pygame.Rect:
        """Its head, in pixels."""
        ...

    @property
    def bottom_line_y(self) -> float:
        """The y of the lowest line of its staff."""
        ...

    @property
    def space_px(self) -> int:
        """The distance of two staff lines."""
        ...

    @property
    def step_y(self) -> Callable[[int], float]:
        """The y of a line or space by `Pitch.staff_step`."""
        ...


@dataclass(frozen=True, slots=True)
class DrawnHead:
    """A small head with its sign, and its place."""

    surface: pygame.Surface
    at: pygame.Rect


def steps_away(mark: PlayedHead, note: PrintedNote) -> int:
    """Lines and spaces from the printed note up to the one played; negative downwards."""
    return round((note.head.centery - note.step_y(mark.pitch.staff_step)) * 2 / note.space_px)


def played_name(mark: Mark, note: PrintedNote, names: NoteNames) -> str:
    """What was played, in the player's names: with a natural where one is meant, and a note's own letter with the
    octave it was played in. Nothing for another mark.
    """
    if not isinstance(mark, PlayedHead):
        return ""
    octave = _OCTAVES.get(steps_away(mark, note), "")
    natural = "♮" if _natural_meant(mark, names) and not octave else ""
    return f"{name_in(spelling_of(mark.pitch), names)}{natural} {octave}".rstrip()


def _natural_meant(mark: PlayedHead, names: NoteNames) -> bool:
    """Whether the plain letter would be read with the sign of the signature; German names say it themselves."""
    return mark.show_sign and mark.pitch.alter == 0 and names is not NoteNames.GERMAN


def played_head(mark: PlayedHead, note: PrintedNote, theme: Theme, seed: int) -> DrawnHead | None:
    """The small head in the column of the printed one; None nearer to that than a third, and away from the staff."""
    space, y = note.space_px, note.step_y(mark.pitch.staff_step)
    on_staff = round((note.bottom_line_y - y) * 2 / space) in _STAFF_STEPS
    if abs(steps_away(mark, note)) < _CLEAR_STEPS or not on_staff:
        return None
    head = _trimmed(pencil.notehead(space, theme.accent, seed % _STEPS_OF_OCTAVE))
    middle = round(note.head.centerx), round(y)
    parts = [(head, head.get_rect(center=middle))]
    if mark.show_sign:
        sign = _sign(mark.pitch.alter, space, theme)
        parts.append((sign, sign.get_rect(midright=(parts[0][1].left - 1, middle[1]))))
    room = parts[0][1].unionall([place for _, place in parts])
    surface = pygame.Surface(room.size, pygame.SRCALPHA)
    surface.blits([(part, place.move(-room.left, -room.top)) for part, place in parts], doreturn=False)
    return DrawnHead(surface, room)


def _sign(alter: int, space: int, theme: Theme) -> pygame.Surface:
    return _trimmed(pencil.letters(_SIGNS[alter], Face.TEXT, round(space * 1.25), theme.accent))


def _trimmed(surface: pygame.Surface) -> pygame.Surface:
    return surface.subsurface(surface.get_bounding_rect())
