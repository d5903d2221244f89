"""The pencil marks of `game.practice.pencilled` under lines of music: in a lane below the lowest print of their line,
tied to their notes by a thin stroke, so that nothing is written on a note, a bar line, a chord symbol or the next line.

Only the head of a note that was played a third or more away stands in the note's own column, where it meets no print.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

import pygame

from game.desk import pencil
from game.desk.lane_rows import MarkColumn, rows_taken
from game.desk.mark_images import MarkImage, mark_image
from game.desk.mark_lanes import LaneType, LineInSight, NoteBox, PencilLane
from game.desk.played_heads import played_head, played_name
from game.desk.theme import Theme
from game.music.names import NoteNames
from game.music.written import HeadId
from game.practice.pencilled import (
    CountMark,
    Mark,
    MissedMark,
    NameMark,
    OffTimeMark,
    PaceMark,
    PlacedMark,
    PlaceMark,
    PlayedHead,
    SaidWrongMark,
    UnsureMark,
)

# Marks of one note stand in this order, and where there is not room for all the last are left out.
_RANKS = {
    PlayedHead: 0,
    MissedMark: 0,
    SaidWrongMark: 0,
    UnsureMark: 0,
    NameMark: 1,
    PlaceMark: 4,
    OffTimeMark: 5,
    PaceMark: 6,
}
# Between marks side by side, so that a fret is not read with the next letter, and between a mark and a stroke; the
# least staff space at which small heads are readable. All in type sizes.
_GAP, _STROKE_GAP, _LEAST_HEAD = 0.4, 0.2, 0.75
_FAR_PX = 100_000
# The thinnest and the shortest stroke that ties a mark to its note, in pixels.
_THIN_PX, _SHORT_PX = 1.5, 3


@dataclass(frozen=True, slots=True)
class _Laid:
    """A drawing laid under a note that has its middle at `note_x`; `mark` is None for a stroke."""

    note_x: int
    surface: pygame.Surface
    at: pygame.Rect
    mark: Mark | None


class PencilLayer:
    """The marks under the lines of one page. `note_at` gives the line of a note and its box on it, `lane_of` the lane
    of a line; both are asked once.
    """

    def __init__(
        self,
        note_at: Callable[[HeadId], tuple[int, NoteBox]],
        lane_of: Callable[[int], PencilLane],
        lane_type: LaneType,
        names: NoteNames,
    ) -> None:
        self._note_at, self._lane_of, self._type, self._names = note_at, lane_of, lane_type, names
        self._known: object = None
        self._laid: dict[int, list[_Laid]] = {}

    def draw(
        self,
        surface: pygame.Surface,
        marks: Sequence[PlacedMark],
        in_sight: Callable[[int], LineInSight | None],
        theme: Theme,
    ) -> None:
        """Draw the marks of the notes that are in sight; `in_sight` gives None for a line that is not."""
        for line, laid in self._lines(marks, theme).items():
            seen = in_sight(line)
            if seen is not None:
                first = bisect_right(laid, seen.left, key=lambda one: one.note_x)
                last = bisect_left(laid, seen.right, key=lambda one: one.note_x)
                surface.blits(
                    [(one.surface, one.at.move(seen.dx, seen.dy)) for one in laid[first:last]], doreturn=False
                )

    def rects(self, marks: Sequence[PlacedMark], theme: Theme) -> Iterator[tuple[int, Mark | None, int, pygame.Rect]]:
        """What is drawn: its line, the mark or None for a stroke, the middle of its note, its rectangle there."""
        for line, laid in self._lines(marks, theme).items():
            for one in laid:
                yield line, one.mark, one.note_x, one.at

    def rows_wanted(self, marks: Sequence[PlacedMark], theme: Theme) -> dict[int, int]:
        """How many rows the marks take on each line that has any, of those there are."""
        row_px = self._type.row_px
        return {
            line: max((1 + (one.at.centery - self._lane_of(line).top) // row_px for one in laid), default=0)
            for line, laid in self._lines(marks, theme).items()
        }

    def _lines(self, marks: Sequence[PlacedMark], theme: Theme) -> dict[int, list[_Laid]]:
        known = (tuple(marks), theme)
        if known != self._known:
            self._known = known
            self._laid = {
                line: sorted(self._lay(line, notes, theme), key=lambda one: one.note_x)
                for line, notes in self._by_line(marks).items()
            }
        return self._laid

    def _by_line(self, marks: Iterable[PlacedMark]) -> dict[int, list["_Noted"]]:
        """The marks of each line by its printed notes: one that is played twice stands there once."""
        lines: dict[int, dict[tuple[int, int], _Noted]] = defaultdict(dict)
        for placed in dict.fromkeys(marks):
            line, box = self._note_at(placed.head)
            seed = placed.head.bar * 97 + placed.head.event
            noted = lines[line].setdefault(box.head.topleft, _Noted(box, seed, []))
            if placed.mark not in noted.marks:
                noted.marks.append(placed.mark)
        return {line: sorted(notes.values(), key=lambda noted: noted.box.head.centerx) for line, notes in lines.items()}

    def _lay(self, line: int, notes: Sequence["_Noted"], theme: Theme) -> Iterator[_Laid]:
        lane = self._lane_of(line)
        heads: list[pygame.Rect] = []
        under: list[_Noted] = []
        for noted in notes:
            rest = []
            for mark in sorted(noted.marks, key=_rank):
                head = self._own_column(mark, noted, lane, theme, heads) if isinstance(mark, PlayedHead) else None
                if head is None:
                    rest.append(mark)
                else:
                    heads.append(head.at)
                    yield head
            under.append(_Noted(noted.box, noted.seed, rest))
        yield from self._in_lane(under, lane, theme)
        yield from self._counts(under, lane, theme)

    def _own_column(
        self, mark: PlayedHead, noted: "_Noted", lane: PencilLane, theme: Theme, others: list[pygame.Rect]
    ) -> _Laid | None:
        """The small head where it would stand. None where that is near its note or away from the staff, where print is
        in the way, and where it would be too small to be read.
        """
        if noted.box.space_px < _LEAST_HEAD * self._type.px:
            return None
        drawn = played_head(mark, noted.box, theme, noted.seed)
        if drawn is None or drawn.at.bottom > lane.top:
            return None
        if drawn.at.collidelist(lane.printed) >= 0 or drawn.at.inflate(2, 2).collidelist(others) >= 0:
            return None
        return _Laid(noted.x, drawn.surface, drawn.at, mark)

    def _in_lane(self, notes: Sequence["_Noted"], lane: PencilLane, theme: Theme) -> Iterator[_Laid]:
        """Marks in the rows of the lane, with their strokes."""
        counted = any(isinstance(mark, CountMark) for noted in notes for mark in noted.marks)
        written = [self._written(noted, theme, counts=False) for noted in notes]
        columns = [
            MarkColumn(
                x=noted.x,
                spans=tuple(_span(noted.x, image, lane) for _, image in marks),
                importance=-min((_rank(mark) for mark, _ in marks), default=0),
            )
            for noted, marks in zip(notes, written, strict=True)
        ]
        taken = rows_taken(columns, lane.rows - counted, _GAP * self._type.px, _STROKE_GAP * self._type.px)
        for noted, column, marks, rows in zip(notes, columns, written, taken, strict=True):
            for row, (mark, image) in enumerate(marks[: rows.count]):
                at = self._place(image, column.spans[row][0], lane.top, rows.first + row)
                yield _Laid(noted.x, image.surface, at, mark)
                if row == 0:
                    yield from _stroke(noted, lane, at.top, image)

    def _counts(self, notes: Sequence["_Noted"], lane: PencilLane, theme: Theme) -> Iterator[_Laid]:
        """Counts in the last row of the lane; nothing ties them: every beat has its own."""
        counts = [(noted, *written) for noted in notes for written in self._written(noted, theme, counts=True)]
        columns = [
            MarkColumn(x=noted.x, spans=(_span(noted.x, image, lane),), importance=_weight(mark))
            for noted, mark, image in counts
        ]
        taken = rows_taken(columns, 1, _STROKE_GAP * self._type.px)
        for (noted, mark, image), column, rows in zip(counts, columns, taken, strict=True):
            if rows.count:
                yield _Laid(
                    noted.x, image.surface, self._place(image, column.spans[0][0], lane.top, lane.rows - 1), mark
                )

    def _written(self, noted: "_Noted", theme: Theme, *, counts: bool) -> list[tuple[Mark, MarkImage]]:
        px, seed = self._type.px, noted.seed
        return [
            (mark, mark_image(mark, px, theme, seed, played=played_name(mark, noted.box, self._names)))
            for mark in noted.marks
            if isinstance(mark, CountMark) is counts
        ]

    def _place(self, image: MarkImage, left: float, lane_top: int, row: int) -> pygame.Rect:
        middle = lane_top + row * self._type.row_px + self._type.row_px // 2
        return image.surface.get_rect(topleft=(round(left), middle + image.top))


@dataclass(frozen=True, slots=True)
class _Noted:
    """A printed note with what is to be written at it."""

    box: NoteBox
    seed: int
    marks: list[Mark]

    @property
    def x(self) -> int:
        """The middle of its head."""
        return self.box.head.centerx


def _rank(mark: Mark) -> int:
    rows = mark.row if isinstance(mark, NameMark) else 0
    return _RANKS.get(type(mark), 0) + rows


def _weight(mark: Mark) -> int:
    """Beats are counted before their halves, and those before their quarters."""
    text = mark.text if isinstance(mark, CountMark) else ""
    return 2 if text.isdigit() else 1 if text == "&" else 0


def _span(x: float, image: MarkImage, lane: PencilLane) -> tuple[float, float]:
    """A mark stands in the middle under its note; at the end of a line it ends with it."""
    width = image.surface.get_width()
    left = max(lane.left, min(x - width / 2, lane.right - width))
    return left, left + width


def _stroke(noted: _Noted, lane: PencilLane, until_y: int, image: MarkImage) -> Iterator[_Laid]:
    """A thin stroke from below all print of the note's column to its mark."""
    thin = max(_THIN_PX, noted.box.space_px * 0.085)
    column = pygame.Rect(noted.x - round(thin) - 1, -_FAR_PX, 2 * round(thin) + 3, 2 * _FAR_PX)
    lowest = max((lane.printed[at].bottom for at in column.collidelistall(lane.printed)), default=0)
    from_y = max(lowest, noted.box.group.bottom, round(noted.box.bottom_line_y) + 1) + 2
    length = until_y - 2 - from_y
    if length >= _SHORT_PX:
        full = pencil.line(length, thin, image.colour, noted.seed % 7, upright=True)
        drawn = full.subsurface(full.get_bounding_rect())
        at = drawn.get_rect(midtop=(noted.x, from_y))
        yield _Laid(noted.x, drawn, at, None)
