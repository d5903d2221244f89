"""The picture of the first start: a written note, its one home on the neck, and three doors."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_ring, pencil_words
from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.kit.door import DOOR_SIZE, Door, draw_door
from game.desk.kit.ground import READING_TOP, draw_ground
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck, draw_place
from game.desk.kit.ink_staff import StaffRoom, draw_empty_staff, draw_head
from game.desk.kit.inked import draw_dot, draw_ink
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.desk.kit.sketches import smooth
from game.desk.part_in_view import Followed
from game.desk.typography import Face, shortened, wrapped
from game.lines.first_note import FIRST_HOME, FIRST_NOTE
from game.text.catalogue import say

LEFT, MUSIC_RIGHT, DOORS_LEFT = 70.0, 736.0, 800.0
OTHER_PLACES: Final = ((2, 1), (4, 10))
"""String and fret where the same note sounds, and which are not its home."""

_FULL_HEIGHT: Final = 720.0
_MOST_SPARE: Final = 160.0
_HEAD_X, _DOORS_TOP, _DOOR_STEP = 262.0, 218.0, 122.0
_ROOM = StaffRoom(LEFT, MUSIC_RIGHT, 186, 19)
_WORDS_RIGHT: Final = MUSIC_RIGHT + 30


@dataclass(frozen=True, slots=True)
class FirstStartDrawing:
    """The first start on a canvas. `fill` is that of the note,"""

    canvas: Canvas
    fill: Fill
    name: str
    left_handed: bool = False
    strings: int = 6

    @property
    def neck(self) -> InkNeck:
        """Where the neck lies."""
        higher = self.canvas.sheet.size[1] / self.canvas.sheet.unit - _FULL_HEIGHT
        return InkNeck(
            left=LEFT,
            top=398 + 0.3 * min(_MOST_SPARE, max(0.0, higher)),
            width=MUSIC_RIGHT - LEFT,
            height=180,
            first=0,
            last=12,
            position=5,
            left_handed=self.left_handed,
            strings=self.strings,
        )

    def draw_music(self) -> None:
        """Desk, title, staff and neck, and the line from the note to its home."""
        canvas, theme = self.canvas, self.canvas.theme
        draw_ground(canvas, READING_TOP)
        canvas.write(say("first.title"), (LEFT, 92), Style(Face.TITLE, 46, theme.ink))
        canvas.write(say("first.below"), (LEFT, 130), Style(Face.ITALIC, 23, theme.faded))
        draw_empty_staff(canvas, _ROOM)
        draw_ink_neck(canvas, self.neck, (), numbered=False)
        self._draw_line()
        self._draw_note()
        self._draw_home()
        for string, fret in OTHER_PLACES:
            self._strike_out(self.neck.middle_of(string, fret), fret)
        self._draw_words()

    def _draw_line(self) -> None:
        (x, y), (home_x, home_y) = self._head, self._home
        down = home_y - y
        curve = (
            (x + 13, y + 17),
            (x + 44, y + 0.27 * down),
            (x + 0.71 * (home_x - x), y + 0.53 * down),
            (home_x - 12, home_y - 62),
            (home_x - 2, home_y - 23),
        )
        draw_pencil(self.canvas, smooth(curve, steps=14), 3.2, self.canvas.theme.accent, 21)

    @property
    def _head(self) -> Point:
        return _HEAD_X, _ROOM.y_of(FIRST_NOTE.name)

    @property
    def _home(self) -> Point:
        return self.neck.middle_of(FIRST_HOME.string, FIRST_HOME.fret)

    def _draw_note(self) -> None:
        canvas, (x, y) = self.canvas, self._head
        draw_head(canvas, FilledNote(FIRST_NOTE.name, self.fill), self._head, _ROOM)
        colour = canvas.theme.read if self.fill.inked else canvas.theme.ink
        stem = x - 0.6 * _ROOM.space
        draw_ink(canvas, [(stem, y + 2), (stem, y + 3.4 * _ROOM.space)], 2.1, colour)
        draw_ring(canvas, self._head, 42, 3, canvas.theme.accent, 4)

    def _draw_home(self) -> None:
        place = FilledPlace(FIRST_HOME.string, FIRST_HOME.fret, self.fill, self.name)
        draw_place(self.canvas, place, self._home, 34)
        draw_ring(self.canvas, self._home, 46, 3, self.canvas.theme.accent, 9)

    def _strike_out(self, at: Point, seed: int) -> None:
        canvas, (x, y) = self.canvas, at
        draw_dot(canvas, at, 27, canvas.theme.paper)
        draw_ring(canvas, at, 26, 2, canvas.theme.pencil, seed)
        draw_pencil(canvas, [(x - 17, y + 11), (x + 17, y - 11)], 2.6, canvas.theme.pencil, seed)

    def _draw_words(self) -> None:
        """Beside the line what is written and what is played; below the neck why the others are struck out."""
        canvas, neck = self.canvas, self.neck
        red = Style(Face.ITALIC, 25, canvas.theme.accent)
        pencil_words(canvas, say("first.written"), (_HEAD_X + 74, 304), red)
        pencil_words(canvas, say("first.played"), (self._home[0] + 18, neck.top - 14), red)
        (x, y), foot = neck.middle_of(*OTHER_PLACES[1]), neck.top + neck.height
        draw_pencil(canvas, [(x - 2, foot + 20), (x, y + 17)], 1.8, canvas.theme.pencil, 6)
        quiet = Style(Face.ITALIC, 22, canvas.theme.pencil)
        said = say("first.not_its_home")
        half = canvas.width_of(said, quiet) / 2
        middle = min(max(x + 8, LEFT + half), MUSIC_RIGHT - half)
        pencil_words(canvas, said, (middle, foot + 38), quiet, Align.CENTRE)

    def draw_call(self, call: str, after: str) -> None:
        """What to do now, in red, and what it is, quietly; below it in lines of its own where it is long."""
        canvas, theme = self.canvas, self.canvas.theme
        baseline = self.neck.top + self.neck.height + 74
        red, quiet = Style(Face.TITLE, 32, theme.accent), Style(Face.ITALIC, 23, theme.faded)
        for size in (32.0, 29.0, 26.0, 23.0):
            red = Style(Face.TITLE, size, theme.accent)
            if LEFT + canvas.width_of(call, red) <= _WORDS_RIGHT:
                break
        shown = shortened(call, red.face, canvas.px(red.size), canvas.px(_WORDS_RIGHT - LEFT))
        right = canvas.write(shown, (LEFT, baseline), red).right / canvas.sheet.unit
        if right + 16 + canvas.width_of(after, quiet) <= _WORDS_RIGHT:
            canvas.write(after, (right + 16, baseline), quiet)
        else:
            cut = shortened(after, quiet.face, canvas.px(quiet.size), canvas.px(_WORDS_RIGHT - LEFT))
            canvas.write(cut, (LEFT, baseline + 30), quiet)

    def followed(self, *, call: bool) -> Followed:
        """What is to be seen of it: the note and its home, or what is said now and the home."""
        canvas, (x, y), (head_x, head_y) = self.canvas, self._home, self._head
        baseline = self.neck.top + self.neck.height + 74
        most = canvas.rect(LEFT, head_y - 70, MUSIC_RIGHT - LEFT, baseline + 44 - head_y + 70)
        core = canvas.rect(LEFT, baseline - 36, 480, 80) if call else canvas.rect(head_x, y - 130, x - head_x + 60, 190)
        return Followed(most, core)

    def draw_doors(self, doors: tuple[Door, ...]) -> tuple[pygame.Rect, ...]:
        """The doors with their question and a word below; returns what can be clicked of each."""
        canvas, theme = self.canvas, self.canvas.theme
        canvas.write(say("first.how"), (DOORS_LEFT, 198), Style(Face.TITLE, 28, theme.ink))
        found = tuple(
            draw_door(canvas, door, (DOORS_LEFT, _DOORS_TOP + _DOOR_STEP * number)) for number, door in enumerate(doors)
        )
        quiet, px = Style(Face.ITALIC, 22, theme.faded), canvas.px(22)
        for number, line in enumerate(wrapped(say("first.or_play"), quiet.face, px, canvas.px(DOOR_SIZE[0]))[:2]):
            canvas.write(line, (DOORS_LEFT, 606 + 26 * number), quiet)
        return found
