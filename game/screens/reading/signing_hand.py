"""The hand that signs for the first time: strokes drawn with the mouse, or letters typed, and both taken back."""

import unicodedata

import pygame

from game.desk.kit.pen_strokes import Point, Stroke, longer, point_count
from game.desk.kit.signature import SigningRoom, writable
from game.player.kept_signature import LONGEST_NAME, MOST_POINTS, MOST_STROKES, PlayerSignature
from game.text.clean_text import cleaned

# A point nearer than this to the one before says nothing more, in heights of the room.
_LEAST = 0.006


class SigningHand:
    """What was drawn or typed so far: a stroke begins a drawing, a letter a name, and each puts the other away."""

    def __init__(self) -> None:
        self.strokes: list[Stroke] = []
        self.typed = ""
        self._drawing = False

    @property
    def signature(self) -> PlayerSignature | None:
        """What it is signed with; None for nothing, or a name of which nothing can be written."""
        if self.strokes:
            return PlayerSignature(strokes=tuple(self.strokes))
        return typed_signature(self.typed)

    def press(self, at: Point, room: SigningRoom) -> None:
        """The button goes down at a place in units: in the room a stroke begins there."""
        if room.holds(at) and len(self.strokes) < MOST_STROKES and point_count(self.strokes) < MOST_POINTS:
            self.typed = ""
            self.strokes.append((room.heights(at),))
            self._drawing = True

    def move(self, at: Point, room: SigningRoom) -> None:
        """The mouse is there now. Outside the room the stroke goes along its edge; endless ones end."""
        if self._drawing and point_count(self.strokes) < MOST_POINTS:
            self.strokes[-1] = longer(self.strokes[-1], room.heights(at), _LEAST)

    def lift(self) -> None:
        """The button is up."""
        self._drawing = False

    def type(self, event: pygame.event.Event) -> bool:
        """Take a key; whether it was one of writing. Backspace takes back a stroke or a letter, Del all."""
        if event.key == pygame.K_BACKSPACE:
            self._take_back()
        elif event.key == pygame.K_DELETE:
            self.strokes, self.typed = [], ""
        elif event.unicode and event.unicode.isprintable():
            self.strokes = []
            self.typed = unicodedata.normalize("NFC", self.typed + event.unicode)[:LONGEST_NAME]
        else:
            return False
        self._drawing = False
        return True

    def _take_back(self) -> None:
        if self.strokes:
            self.strokes.pop()
        else:
            self.typed = self.typed[:-1]


def typed_signature(typed: str) -> PlayerSignature | None:
    """A name as a signature; None where nothing of it can be written."""
    name = cleaned(typed, LONGEST_NAME)
    return PlayerSignature(typed=name) if writable(name) else None
