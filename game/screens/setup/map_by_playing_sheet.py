"""The picture of a map that is being written: its notes on the staff, its places on the neck, and the newest of them
ringed and tied. In units.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_ring
from game.desk.kit.canvas import Canvas, Point, Style
from game.desk.kit.ink_neck import InkNeck, draw_ink_neck
from game.desk.kit.ink_staff import StaffRoom, draw_ink_staff
from game.desk.kit.note_fill import Fill, FilledNote, FilledPlace
from game.desk.typography import Face
from game.music.names import NoteNames
from game.music.pitch import Pitch
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place
from game.screens.setup.dialog_sheet import FOOT_HEIGHT
from game.screens.setup.fitted_staff import fitted_staff
from game.screens.setup.fitted_words import draw_fitted_words
from game.screens.setup.map_sheet import LEFT, NECK_RIGHT, RIGHT_MARGIN, WORDS_LEFT
from game.screens.setup.map_words import named, plainly_written

_STAFF_TOP, _STAFF_BOTTOM, _MOST_SPACE = 178.0, 318.0, 12.5
_NECK_TOP, _MOST_NECK, _BELOW_NECK = 360.0, 330.0, 30.0
_WORDS_TOP: Final = 360.0
FRETS_SHOWN: Final = 12
"""So many frets are wide enough for letters; the rest is a key away."""


def frets_shown(frets: int) -> int:
    """How many frets a part of the neck has: two parts are all of it."""
    return max(FRETS_SHOWN, (frets + 1) // 2)


def first_of_part(frets: int, *, upper: bool) -> int:
    """The fret at which the part of the neck in sight begins, 0 for the nut."""
    return max(0, frets - frets_shown(frets)) if upper else 0


def is_in_part(fret: int, frets: int, *, upper: bool) -> bool:
    """Whether a fret is in sight."""
    first = first_of_part(frets, upper=upper)
    return (first < fret or first == 0) and fret <= first + frets_shown(frets)


@dataclass(frozen=True)
class MapByPlayingSheet:
    """Where notes and places stand. `homes` is what is written so far, `newest` the place written last; `like` is the
    map whose neck and octave they have. `foot` is the upper end of the keys at the foot.
    """

    size: tuple[float, float]
    like: NeckMap
    homes: Mapping[int, Place]
    newest: Place | None
    upper: bool
    left_handed: bool
    foot: float
    capo: int = 0

    @cached_property
    def neck(self) -> InkNeck:
        """The part of the neck in sight, as high as there is room."""
        first = first_of_part(self.like.frets, upper=self.upper)
        return InkNeck(
            left=LEFT,
            top=_NECK_TOP,
            width=NECK_RIGHT - LEFT,
            height=min(_MOST_NECK, self.foot - _BELOW_NECK - _NECK_TOP),
            first=first,
            last=min(self.like.frets, first + frets_shown(self.like.frets)),
            # Nobody knows yet where the hand will be: it lies on none of these frets.
            position=min(self.like.frets, first + frets_shown(self.like.frets)) + 1,
            strings=len(self.like.tuning.open_strings),
            left_handed=self.left_handed,
            capo=self.capo,
        )

    @cached_property
    def written(self) -> tuple[tuple[int, Pitch], ...]:
        """Sounding pitch and written note, from the lowest up."""
        return tuple((sounding, plainly_written(sounding, self.like)) for sounding in sorted(self.homes))

    @cached_property
    def staff(self) -> StaffRoom:
        """The staff, as large as its lowest and highest note let it be."""
        return fitted_staff(
            (note for _, note in self.written),
            self.like.reading,
            ends=(LEFT, self.size[0] - RIGHT_MARGIN),
            between=(_STAFF_TOP, _STAFF_BOTTOM),
            most_space=_MOST_SPACE,
        )

    def place_at(self, at: Point) -> Place | None:
        """The place of the neck under a point, None beside it."""
        found = self.neck.place_at(at)
        return Place(*found) if found and (found[1] > self.neck.first or found[1] == 0) else None

    def draw(self, canvas: Canvas, names: NoteNames) -> tuple[Point, ...]:
        """Staff and neck; returns the middles of the heads, from the lowest note up."""
        new = None if self.newest is None else self.like.tuning.sounding(self.newest)
        notes = [FilledNote(note.name, Fill.PRINT, ringed=sounding == new) for sounding, note in self.written]
        heads = draw_ink_staff(canvas, notes, self.staff)
        draw_ink_neck(canvas, self.neck, tuple(self._places(names)), numbered=False)
        for (sounding, _), head in zip(self.written, heads, strict=True):
            if self.newest is not None and sounding == new:
                self._tie(canvas, head, self.newest)
        return heads

    def followed(self) -> tuple[float, float, float, float]:
        """What is to be seen where all of it is too large: around the place written last, or the words beside it."""
        if self.newest is None:
            return WORDS_LEFT, _WORDS_TOP - 30, self.size[0] - RIGHT_MARGIN - WORDS_LEFT, 120.0
        (x, y), air = self.neck.middle_of(self.newest.string, self.newest.fret), 60.0
        return x - air, y - air, 2 * air, 2 * air

    def draw_words(self, canvas: Canvas, texts: Sequence[tuple[str, Style]]) -> pygame.Rect:
        """Words beside the neck, one after another; returns the pixels they have room in."""
        width, bottom = self.size[0] - RIGHT_MARGIN - WORDS_LEFT, self.size[1] - FOOT_HEIGHT
        draw_fitted_words(canvas, texts, (WORDS_LEFT, _WORDS_TOP), width, bottom)
        return canvas.rect(WORDS_LEFT, _WORDS_TOP - 30, width, bottom + 40 - _WORDS_TOP)

    def _places(self, names: NoteNames) -> list[FilledPlace]:
        return [
            FilledPlace(
                place.string,
                place.fret,
                Fill.PRINT,
                named(sounding, self.like, names),
                ringed=place == self.newest,
            )
            for sounding, place in self.homes.items()
            if is_in_part(place.fret, self.like.frets, upper=self.upper)
        ]

    def _tie(self, canvas: Canvas, head: Point, place: Place) -> None:
        if not is_in_part(place.fret, self.like.frets, upper=self.upper):
            return
        x, y = self.neck.middle_of(place.string, place.fret)
        draw_ring(canvas, head, 2.6 * self.staff.space, 3, canvas.theme.accent, 4)
        top = max(self.staff.bottom, head[1]) + 1.6 * self.staff.space
        ends = [(head[0], top), (head[0], self.neck.top - 6), (x, top), (x, y - 0.62 * self.neck.dot)]
        draw_pencil(canvas, [_on_curve(ends, step / 24) for step in range(25)], 2.6, canvas.theme.accent, 21)


def word_styles(canvas: Canvas) -> tuple[Style, Style, Style]:
    """How words beside the neck are set: a heading, running text, and what is quiet."""
    theme = canvas.theme
    return Style(Face.TITLE, 27, theme.ink), Style(Face.TEXT, 23, theme.ink), Style(Face.ITALIC, 21, theme.faded)


def _on_curve(ends: Sequence[Point], t: float) -> Point:
    """A point of the curve between the first and the last of four points (Bézier), `t` from 0 to 1."""
    shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return (
        sum(share * x for share, (x, _) in zip(shares, ends, strict=True)),
        sum(share * y for share, (_, y) in zip(shares, ends, strict=True)),
    )
