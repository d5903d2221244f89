"""The picture of a map with a second region: the seam on the staff and both regions on the neck, what changes home
ringed, and beside it where the hand shifts and why there. In units.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Point, Style
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.ink_staff import draw_ink_staff
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.desk.typography import Face
from game.music.names import NoteNames
from game.music.notes_called import notes_called
from game.neck.neck_map import roman
from game.screens.setup.fitted_staff import fitted_staff
from game.screens.setup.fitted_words import draw_fitted_words
from game.screens.setup.map_joining import MapJoining
from game.screens.setup.map_sheet import LEFT, NECK_RIGHT, RIGHT_MARGIN, WORDS_LEFT
from game.screens.setup.map_words import named, plainly_written
from game.text.catalogue import as_sentence, say, tell

_STAFF_TOP, _STAFF_BOTTOM, _MOST_SPACE = 172.0, 310.0, 12.0
_NECK_TOP, _MOST_NECK, _BELOW_NECK = 370.0, 300.0, 26.0
_WORDS_TOP: Final = 346.0


@dataclass(frozen=True, slots=True)
class JoinedSheet:
    """Where both regions stand; `foot` is where the picture ends above the keys."""

    width: float
    foot: float
    joining: MapJoining
    left_handed: bool = False
    capo: int = 0

    def draw(self, canvas: Canvas, names: NoteNames) -> pygame.Rect:
        """Staff, neck and words; returns the pixels of the words."""
        self._draw_staff(canvas)
        self._draw_neck(canvas, names)
        return self._draw_words(canvas, names)

    def _draw_staff(self, canvas: Canvas) -> None:
        neck_map = self.joining.neck_map
        moved = {one.sounding for one in self.joining.changes}
        written = [(home.sounding, plainly_written(home.sounding, neck_map)) for home in neck_map.homes]
        room = fitted_staff(
            (note for _, note in written),
            neck_map.reading,
            ends=(LEFT, self.width - RIGHT_MARGIN),
            between=(_STAFF_TOP, _STAFF_BOTTOM),
            most_space=_MOST_SPACE,
        )
        notes = [FilledNote(note.name, Fill.PENCIL if sounding in moved else Fill.PRINT) for sounding, note in written]
        heads = draw_ink_staff(canvas, notes, room)
        number = next((at for at, (sounding, _) in enumerate(written) if sounding >= self.joining.seam), len(heads) - 1)
        self._draw_seam(canvas, (heads[max(0, number - 1)], heads[number]))

    def _draw_seam(self, canvas: Canvas, between: tuple[Point, Point]) -> None:
        """A stroke through the staff where the hand shifts, and on both sides the positions."""
        # Nearer to the note below: the accidental of the note above stands between.
        x = between[0][0] + 0.42 * (between[1][0] - between[0][0])
        top, bottom = _STAFF_TOP - 14, _STAFF_BOTTOM + 8
        draw_pencil(canvas, [(x, top), (x + 1.5, (top + bottom) / 2), (x, bottom)], 4.0, canvas.theme.accent, 3)
        lower, higher = self.joining.neck_map.positions
        style = Style(Face.TITLE, 26, canvas.theme.accent)
        canvas.write(roman(lower), (x - 12, top + 16), style, Align.RIGHT)
        canvas.write(roman(higher), (x + 12, top + 16), style)

    def _draw_neck(self, canvas: Canvas, names: NoteNames) -> None:
        neck_map = self.joining.neck_map
        frets = [home.place.fret for home in neck_map.homes]
        first = max(0, min(frets) - 1)
        neck = InkNeck(
            left=LEFT,
            top=_NECK_TOP,
            width=NECK_RIGHT - LEFT,
            height=min(_MOST_NECK, self.foot - _BELOW_NECK - _NECK_TOP),
            first=first,
            last=max(frets),
            position=neck_map.positions[0],
            strings=len(neck_map.tuning.open_strings),
            left_handed=self.left_handed,
            capo=self.capo,
            second=neck_map.positions[1],
            span=neck_map.hand.span,
        )
        moved = {one.sounding for one in self.joining.changes}
        narrow = abs(neck.fret_x(neck.last) - neck.fret_x(neck.last - 1)) < neck.dot
        places = [
            FilledPlace(
                home.place.string,
                home.place.fret,
                Fill.PENCIL if home.sounding in moved else Fill.PRINT,
                "" if narrow else named(home.sounding, neck_map, names),
            )
            for home in neck_map.homes
        ]
        draw_ink_neck(canvas, neck, places)

    def _told(self, names: NoteNames) -> Iterator[str]:
        for one in self.joining.joined.reasons:
            yield as_sentence(tell(notes_called(one, names)))
        yield say("maps.join.proposed") if self.joining.as_proposed else say("maps.join.own_seam")

    def _draw_words(self, canvas: Canvas, names: NoteNames) -> pygame.Rect:
        theme, width = canvas.theme, self.width - RIGHT_MARGIN - WORDS_LEFT
        heading, text = Style(Face.TITLE, 24, theme.ink), Style(Face.TEXT, 22, theme.ink)
        texts = [(told, text if number else heading) for number, told in enumerate(self._told(names))]
        draw_fitted_words(canvas, texts, (WORDS_LEFT, _WORDS_TOP), width, self.foot)
        return canvas.rect(WORDS_LEFT, _WORDS_TOP - 30, width, self.foot + 40 - _WORDS_TOP)
