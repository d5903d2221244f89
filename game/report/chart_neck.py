"""The neck of a chart, as in chord charts: string 1 on top, the nut on the left, every home named in its ring."""

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.patches import Circle, Rectangle

from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.neck.neck_map import Home, NeckMap, Reach, roman
from game.neck.tuning import INLAYS
from game.report.chart_ink import FIGURES, INK, PAPER, PENCIL, SHADE, STRONG, TEXT, font

_SHORT_NAME = 2
"""Signs that a name may have to stand in its ring as large as others."""

_DASHES = (2, 1.5)
_NAME, _LONG_NAME, _OCTAVE, _ALONE = 0.787, 0.605, 0.424, 1.15
"""Heights of letters as shares of the radius of their ring; a name without its octave may be larger."""

_READABLE_PT = 5.5
"""Smaller figures nobody reads from a sheet of paper: where there is no room for more, the octave is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartNeck:
    """Where a neck lies on the axes, whose y grows downwards.

    `left` is the x of the middle of the first fret shown, `top` the y of string 1; `fret_width` and `string_gap` the
    steps from place to place, `radius` that of a ring, all in units of the axes, of which `unit_pt` says how many
    points one has. `mirrored` for left-handed players: the nut on the right. With a `capo` frets are counted from it,
    and the dots stay where the neck has them.
    """

    strings: int
    lowest: int
    highest: int
    left: float = 0.0
    top: float = 1.0
    fret_width: float = 1.0
    string_gap: float = 1.0
    radius: float = 0.37
    unit_pt: float = 1.0
    mirrored: bool = False
    capo: int = 0

    def x(self, fret: float) -> float:
        """The middle of a fret; halves are the wires."""
        steps = self.highest - fret if self.mirrored else fret - self.lowest
        return self.left + steps * self.fret_width

    def y(self, string: float) -> float:
        """The middle of a string."""
        return self.top + (string - 1) * self.string_gap

    def size(self, share: float) -> float:
        """A height in points as a share of the radius."""
        return share * self.radius * self.unit_pt

    @property
    def edges(self) -> tuple[float, float]:
        """The x of its ends."""
        one, other = self.x(self.lowest - 0.5), self.x(self.highest + 0.5)
        return min(one, other), max(one, other)


def draw_neck(axes: Axes, neck: ChartNeck) -> None:
    """Strings and frets with their numbers."""
    left, right = neck.edges
    top, bottom = neck.y(1), neck.y(neck.strings)
    numbers = right + 0.3 * neck.fret_width if neck.mirrored else left - 0.3 * neck.fret_width
    for string in range(1, neck.strings + 1):
        y = neck.y(string)
        axes.plot((left, right), (y, y), color=PENCIL, lw=0.6 + 0.2 * string, zorder=1)
        _figure(axes, neck, (numbers, y), string, PENCIL)
    for fret in range(neck.lowest, neck.highest + 1):
        wire, nut = neck.x(fret + 0.5), fret == 0
        axes.plot((wire, wire), (top, bottom), color=INK if nut else PENCIL, lw=3 if nut else 0.8, zorder=1)
        marked = fret > 0 and fret + neck.capo in INLAYS
        _figure(axes, neck, (neck.x(fret), top - 0.58 * neck.string_gap), fret, INK if marked else PENCIL)
        if marked:
            dot = (neck.x(fret), bottom + 0.55 * neck.string_gap)
            axes.add_patch(Circle(dot, 0.135 * neck.radius, color=PENCIL))


def draw_positions(axes: Axes, neck: ChartNeck, neck_map: NeckMap) -> None:
    """The frets under the fingers on a ground of their own, below them the numeral of the position."""
    top, bottom = neck.y(1) - 0.3 * neck.string_gap, neck.y(neck.strings) + 0.3 * neck.string_gap
    for position in neck_map.positions:
        under = neck_map.hand.under_fingers(position)
        ends = sorted((neck.x(under[0] - 0.5), neck.x(min(under[-1], neck.highest) + 0.5)))
        ground = Rectangle((ends[0], top), ends[1] - ends[0], bottom - top, facecolor=SHADE, edgecolor="none", zorder=0)
        axes.add_patch(ground)
        axes.text(
            sum(ends) / 2,
            bottom + 0.75 * neck.string_gap,
            roman(position),
            ha="center",
            va="center",
            fontproperties=font(STRONG, neck.size(0.85)),
            color=INK,
        )


def draw_homes(axes: Axes, neck: ChartNeck, neck_map: NeckMap, names: NoteNames | None) -> None:
    """A ring at every home, with its written note by these names in it; without names the rings are empty."""
    for home in neck_map.homes:
        _draw_ring(axes, neck, home)
        if names is not None:
            _draw_name(axes, neck, home, neck_map, names)


def _draw_ring(axes: Axes, neck: ChartNeck, home: Home) -> None:
    x, y, radius = neck.x(home.place.fret), neck.y(home.place.string), neck.radius
    if home.reach is Reach.OUTLYING:
        reach = 1.08 * radius
        corners: Sequence[tuple[float, float]] = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
        axes.plot(
            [x + reach * side for side, _ in corners],
            [y + reach * side for _, side in corners],
            color=INK,
            lw=1.2,
            zorder=3,
        )
    style = (0, _DASHES) if home.reach is Reach.STRETCH else "-"
    axes.add_patch(Circle((x, y), radius, facecolor=PAPER, edgecolor=INK, lw=1.2, linestyle=style, zorder=2))


def _draw_name(axes: Axes, neck: ChartNeck, home: Home, neck_map: NeckMap, names: NoteNames) -> None:
    written = spelled(home.sounding + 12 * neck_map.reading.octaves_down, Key(0))
    name = name_in(spelling_of(written), names)
    short = len(name) <= _SHORT_NAME
    with_octave = neck.size(_OCTAVE) >= _READABLE_PT
    share = (_NAME if short else _LONG_NAME) * (1.0 if with_octave else _ALONE)
    named = axes.text(
        neck.x(home.place.fret) - (0.135 * neck.radius if with_octave else 0.0),
        neck.y(home.place.string) + 0.297 * neck.radius,
        name,
        ha="center",
        fontproperties=font(TEXT, neck.size(share)),
        color=INK,
        zorder=4,
    )
    if not with_octave:
        return
    axes.annotate(
        str(written.octave),
        xy=(1, 0),
        xycoords=named,
        fontproperties=font(FIGURES, neck.size(_OCTAVE)),
        color=INK,
        zorder=4,
    )


def _figure(axes: Axes, neck: ChartNeck, at: tuple[float, float], number: int, colour: str) -> None:
    size = neck.size(0.666)
    axes.text(*at, str(number), ha="center", va="center", fontproperties=font(FIGURES, size), color=colour)
