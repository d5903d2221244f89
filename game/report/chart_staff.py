"""The staff of a chart: every written note of a map in order of pitch, with both usual spellings where there are two,
and below each its name and its place.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from matplotlib.axes import Axes
from matplotlib.patches import Circle, PathPatch
from matplotlib.transforms import Affine2D

from game.engraving.engraver import EngravedFace
from game.engraving.glyphs import clef_code, glyph_box
from game.music.keys import both_spellings
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import Pitch
from game.music.score import Reading
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.report.chart_ink import FIGURES, INK, PENCIL, SLANTED, TEXT, font, text_width_mm
from game.report.sign_path import sign_path

# SMuFL code points (`glyphnames.json`).
_SIGNS = {-1: "E260", 1: "E262"}
_HEAD = "E0A4"
# In staff spaces.
_CLEF_ROOM, _BESIDE_SIGN, _BETWEEN_SPELLINGS, _LEDGER = 4.0, 0.22, 0.55, 0.35
_ROOMY_BETWEEN, _LEAST_BETWEEN, _MOST_BETWEEN = 1.4, 0.55, 3.6
_MIN_EXTENT = 1.2
# In mm.
_NAME_PT, _PLACE_PT = 8.5, 8.5
_RING_MM, _LANES_MM, _NAME_LANE_MM, _RING_LANE_MM, _FRET_LANE_MM = 1.75, 14.2, 3.6, 7.7, 12.6
_NAME_APART_MM, _BLANK_MM = 0.8, 4.4
_ROWS = (1, 2, 3)
_SPACES_MM = (1.9, 1.75, 1.6, 1.45, 1.3)
"""From line to line: a staff of 7.6 mm, as in music for one player, down to one of 5.2."""


@dataclass(frozen=True, slots=True)
class WrittenHome:
    """A home as it is written: its spellings, one or two, and its place."""

    sounding: int
    spellings: tuple[Pitch, ...]
    place: Place


def written_homes(neck_map: NeckMap) -> tuple[WrittenHome, ...]:
    """All homes in order of pitch."""
    up = 12 * neck_map.reading.octaves_down
    return tuple(WrittenHome(home.sounding, both_spellings(home.sounding + up), home.place) for home in neck_map.homes)


@dataclass(frozen=True)
class ChartStaff:
    """The staves of a chart, laid out for a width: `space_mm` from line to line, `rows` of homes. `names` None for
    lines to write them on.
    """

    reading: Reading
    space_mm: float
    width_mm: float
    rows: tuple[tuple[WrittenHome, ...], ...]
    names: NoteNames | None

    @cached_property
    def row_heights_mm(self) -> tuple[float, ...]:
        """How high each row is, its lanes of names and places included."""
        return tuple((above + 4 + below) * self.space_mm + _LANES_MM for above, below in map(self.extents, self.rows))

    def height_mm(self, gap_mm: float) -> float:
        """How high all rows are, with so much between them."""
        return sum(self.row_heights_mm) + (len(self.rows) - 1) * gap_mm

    def fits(self, least_between: float = _LEAST_BETWEEN) -> bool:
        """Whether each row has its width, with so many staff spaces at least between its notes."""
        return all(self._needed_mm(row, least_between) <= self.width_mm for row in self.rows)

    def extents(self, row: Sequence[WrittenHome]) -> tuple[float, float]:
        """How far a row goes above the top line and below the bottom line, in staff spaces."""
        steps = [spelling.staff_step for home in row for spelling in home.spellings]
        above = (max(steps) - self.reading.clef.top_step) / 2 + 0.8
        below = (self.reading.clef.bottom_step - min(steps)) / 2 + 0.8
        return max(_MIN_EXTENT, above), max(_MIN_EXTENT + 0.6, below)

    def _needed_mm(self, row: Sequence[WrittenHome], between: float) -> float:
        slots = sum(self._slot_mm(home) for home in row)
        return self._clef_mm + slots + (len(row) + 1) * between * self.space_mm

    @property
    def _clef_mm(self) -> float:
        return _CLEF_ROOM * self.space_mm

    def _slot_mm(self, home: WrittenHome) -> float:
        """The room of a home: its heads, what is written below them, and its ring."""
        heads = sum(self._head_mm(spelling) for spelling in home.spellings)
        heads += (len(home.spellings) - 1) * _BETWEEN_SPELLINGS * self.space_mm
        return max(heads, 2 * _RING_MM + 0.4)

    def _head_mm(self, spelling: Pitch) -> float:
        printed = (_head_width() + _sign_width(spelling)) * self.space_mm
        name = _BLANK_MM if self.names is None else self._name_mm(spelling)
        return max(printed, name + _NAME_APART_MM)

    def _name_mm(self, spelling: Pitch) -> float:
        return text_width_mm(self._name(spelling), TEXT, _NAME_PT)

    def _name(self, spelling: Pitch) -> str:
        return name_in(spelling_of(spelling), self.names or NoteNames.ENGLISH)

    def draw(self, axes: Axes, left: float, top: float, neck_map: NeckMap, gap_mm: float) -> None:
        """Draw the rows from `top` down, `gap_mm` between them; axes in mm, y downwards."""
        before: WrittenHome | None = None
        for row, height in zip(self.rows, self.row_heights_mm, strict=True):
            self._draw_row(axes, row, (left, top), neck_map, before)
            top += height + gap_mm
            before = row[-1]

    def _draw_row(
        self,
        axes: Axes,
        row: Sequence[WrittenHome],
        at: tuple[float, float],
        neck_map: NeckMap,
        before: WrittenHome | None,
    ) -> None:
        (left, top), space = at, self.space_mm
        above, below = self.extents(row)
        top_line = top + above * space
        lanes = top_line + (4 + below) * space
        slots = [self._slot_mm(home) for home in row]
        room = self.width_mm - self._clef_mm - sum(slots)
        between = min(max(room / (len(row) + 1), 0.0), _MOST_BETWEEN * space)
        right = left + self._clef_mm + sum(slots) + (len(row) + 1) * between
        for line in range(5):
            y = top_line + line * space
            axes.plot((left, right), (y, y), color=INK, lw=0.6, zorder=1)
        clef = clef_code(self.reading)
        x = left + (0.5 - glyph_box(EngravedFace.ENGRAVED.value, clef).left) * space
        self._sign(axes, clef, x, self._y(self.reading.clef.own_step, top_line))
        x = left + self._clef_mm + between
        for home, slot in zip(row, slots, strict=True):
            if before is not None and _over_seam(neck_map, before, home):
                self._draw_seam(axes, neck_map, x - between / 2, (top, lanes + _LANES_MM))
            self._draw_home(axes, home, (x, x + slot), top_line, lanes)
            x += slot + between
            before = home

    def _draw_home(
        self, axes: Axes, home: WrittenHome, ends: tuple[float, float], top_line: float, lanes: float
    ) -> None:
        x = ends[0] + (ends[1] - ends[0] - self._heads_mm(home)) / 2
        for spelling in home.spellings:
            width = self._head_mm(spelling)
            self._draw_head(axes, spelling, x + width / 2, top_line)
            self._draw_name(axes, spelling, x + width / 2, lanes + _NAME_LANE_MM)
            x += width + _BETWEEN_SPELLINGS * self.space_mm
        middle = sum(ends) / 2
        if self.names is None:
            for lane in (_RING_LANE_MM, _FRET_LANE_MM):
                y = lanes + lane + (1.2 if lane == _FRET_LANE_MM else 0.0)
                if lane == _RING_LANE_MM:
                    axes.add_patch(Circle((middle, y), _RING_MM, fill=False, edgecolor=PENCIL, lw=0.7))
                else:
                    axes.plot((middle - _BLANK_MM / 2, middle + _BLANK_MM / 2), (y, y), color=PENCIL, lw=0.5)
            return
        axes.add_patch(Circle((middle, lanes + _RING_LANE_MM), _RING_MM, fill=False, edgecolor=INK, lw=0.7))
        for number, lane in ((home.place.string, _RING_LANE_MM), (home.place.fret, _FRET_LANE_MM)):
            axes.text(
                middle,
                lanes + lane,
                str(number),
                ha="center",
                va="center_baseline" if lane == _FRET_LANE_MM else "center",
                fontproperties=font(FIGURES, _PLACE_PT),
                color=INK,
            )

    def _heads_mm(self, home: WrittenHome) -> float:
        apart = (len(home.spellings) - 1) * _BETWEEN_SPELLINGS * self.space_mm
        return sum(self._head_mm(spelling) for spelling in home.spellings) + apart

    def _draw_head(self, axes: Axes, spelling: Pitch, middle: float, top_line: float) -> None:
        """A head with its sign before it, both together in the middle of their room."""
        space, y = self.space_mm, self._y(spelling.staff_step, top_line)
        head, signed = _head_width() * space, _sign_width(spelling) * space
        x = middle - (head + signed) / 2 + signed
        for step in self.reading.clef.ledger_steps(spelling.staff_step):
            row = self._y(step, top_line)
            reach = _LEDGER * space
            axes.plot((x - reach, x + head + reach), (row, row), color=INK, lw=0.8, zorder=1, solid_capstyle="butt")
        if spelling.alter:
            box = glyph_box(EngravedFace.ENGRAVED.value, _SIGNS[spelling.alter])
            self._sign(axes, _SIGNS[spelling.alter], x - (_BESIDE_SIGN + box.right) * space, y)
        self._sign(axes, _HEAD, x - glyph_box(EngravedFace.ENGRAVED.value, _HEAD).left * space, y)

    def _draw_name(self, axes: Axes, spelling: Pitch, middle: float, baseline: float) -> None:
        if self.names is None:
            reach = _BLANK_MM / 2
            axes.plot((middle - reach, middle + reach), (baseline, baseline), color=PENCIL, lw=0.5)
            return
        axes.text(middle, baseline, self._name(spelling), ha="center", fontproperties=font(TEXT, _NAME_PT), color=INK)

    def _draw_seam(self, axes: Axes, neck_map: NeckMap, x: float, ends: tuple[float, float]) -> None:
        """A broken line where the hand shifts from one region to the other, and their numerals."""
        axes.plot((x, x), ends, color=INK, lw=0.9, ls=(0, (4, 2)), zorder=2)
        for position, side, reach in zip(neck_map.positions, ("right", "left"), (-1.0, 1.0), strict=True):
            at = (x + reach, ends[0] + 1.2)
            axes.text(*at, roman(position), ha=side, va="bottom", fontproperties=font(SLANTED, 9), color=INK)

    def _sign(self, axes: Axes, code: str, x: float, y: float) -> None:
        """A sign with its origin at a point."""
        placed = sign_path(code).transformed(Affine2D().scale(self.space_mm).translate(x, y))
        axes.add_patch(PathPatch(placed, facecolor=INK, edgecolor="none", lw=0, zorder=3))

    def _y(self, staff_step: int, top_line: float) -> float:
        return top_line + (self.reading.clef.top_step - staff_step) / 2 * self.space_mm


def staff_for(
    neck_map: NeckMap, names: NoteNames | None, width_mm: float, heights_mm: Sequence[float], gap_mm: float
) -> ChartStaff:
    """The largest staff with room between its notes that a width and the first of some heights hold, in as few rows as
    it takes; else the largest that the next height holds, at last with less room between the notes.
    """
    homes = written_homes(neck_map)
    tried = [
        ChartStaff(neck_map.reading, space, width_mm, _divided(homes, count), names)
        for space in _SPACES_MM
        for count in _ROWS
    ]
    for between in (_ROOMY_BETWEEN, _LEAST_BETWEEN):
        for height in heights_mm:
            for staff in tried:
                if staff.fits(between) and staff.height_mm(gap_mm) <= height:
                    return staff
    # Too many notes for the sheet by our own measure: rather small than cut off.
    return min(tried, key=lambda staff: (not staff.fits(), staff.height_mm(gap_mm)))


def _divided(homes: Sequence[WrittenHome], count: int) -> tuple[tuple[WrittenHome, ...], ...]:
    """Rows of about as many heads each."""
    heads = sum(len(home.spellings) for home in homes)
    rows: list[list[WrittenHome]] = [[]]
    passed = 0
    for home in homes:
        if rows[-1] and len(rows) < count and passed >= heads * len(rows) / count:
            rows.append([])
        rows[-1].append(home)
        passed += len(home.spellings)
    return tuple(map(tuple, rows))


def _over_seam(neck_map: NeckMap, before: WrittenHome, home: WrittenHome) -> bool:
    second = neck_map.second
    return second is not None and before.sounding < second.seam <= home.sounding


def _head_width() -> float:
    box = glyph_box(EngravedFace.ENGRAVED.value, _HEAD)
    return box.right - box.left


def _sign_width(spelling: Pitch) -> float:
    if not spelling.alter:
        return 0.0
    box = glyph_box(EngravedFace.ENGRAVED.value, _SIGNS[spelling.alter])
    return box.right - box.left + _BESIDE_SIGN
