"""Music in an area of the window. There are two ways to see it, a staff that moves under a still reading mark and lines
that stand still, besides the page as it is notated. Each draws into an area it is given, and tells where a note stands
for the pencil. None decides anything.
"""

from collections.abc import Mapping, Sequence
from typing import Protocol

import pygame

from game.desk.count_drawing import Count
from game.desk.mark_lanes import NoteBox
from game.desk.part_in_view import Followed
from game.desk.theme import Colour
from game.engraving.engraver import EngravedFace
from game.music.written import HeadId
from game.player.settings import MusicFace
from game.practice.pencilled import PlacedMark

ENGRAVED_FACES = {MusicFace.ENGRAVED: EngravedFace.ENGRAVED, MusicFace.HANDWRITTEN: EngravedFace.HANDWRITTEN}
Colours = Mapping[HeadId, Colour]


class MusicView(Protocol):
    """Music in an area of the window; `covered` while it has still to be turned up."""

    covered: bool

    def engrave(self) -> None:
        """The look was changed: engrave anew."""
        ...

    def fit(self, area: pygame.Rect) -> None:
        """The area has changed: nothing is engraved again where that can be helped."""
        ...

    def look_at(self, head: HeadId, now_s: float) -> None:
        """A note is asked for: bring it before the eyes."""
        ...

    def follow(self, position_quarters: float) -> None:
        """The clock is at a moment of the music, counted from the first bar; negative in the count-in."""
        ...

    def moving(self, now_s: float) -> bool:
        """Whether the picture changes from frame to frame."""
        ...

    def draw(self, surface: pygame.Surface, colours: Colours, now_s: float) -> None:
        """Draw the music on paper."""
        ...

    def draw_marks(self, surface: pygame.Surface, marks: Sequence[PlacedMark]) -> None:
        """Draw the marks of the notes in sight, where the music was drawn last."""
        ...

    def draw_count(self, surface: pygame.Surface, count: Count) -> None:
        """Draw the beat being counted where the eyes are: at the reading mark, or beside the line being read."""
        ...

    @property
    def followed(self) -> Followed:
        """What is to be seen of the music now, in the window, where text is larger than that."""
        ...

    @property
    def lowest_px(self) -> int:
        """Where the lowest print in sight ends, in the window."""
        ...

    def note_box(self, head: HeadId) -> NoteBox | None:
        """Where a note stands as it was drawn last, None where it is out of sight."""
        ...
