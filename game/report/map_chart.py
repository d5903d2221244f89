"""The map as a chart to print: the neck as in chord charts, string 1 on top, nut on the left, every home named."""

from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import Circle

from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.neck.neck_map import Home, NeckMap, Reach, roman
from game.paths import shipped
from game.text.catalogue import say

_INK, _PENCIL, _PAPER = "#201d1a", "#8b8378", "#ffffff"
_INCHES = 0.62
_LEAST_WIDTH = 10.5
_SHORT_NAME = 2
"""Signs that a name may have to stand in its circle as large as others."""
INLAYS = (3, 5, 7, 9, 12, 15, 17, 19, 21, 24)


def write_chart(neck_map: NeckMap, out: Path) -> None:
    """Write the chart; the ending of `out` says how (.png, .pdf, .svg). Raises `OSError` when it cannot be written."""
    figure, _ = chart_of(neck_map)
    figure.savefig(out, dpi=160, metadata={"Date": None} if out.suffix.lower() == ".svg" else None)


def chart_of(neck_map: NeckMap, names: NoteNames = NoteNames.ENGLISH) -> tuple[Figure, Axes]:
    """The chart as a figure, its homes called by `names`, and the axes on which a place is at x = fret, y = string."""
    shown = [home.place.fret for home in neck_map.homes]
    lowest, highest = max(0, min(shown) - 1), max(shown) + 1
    left, right, top, bottom = lowest - 1.4, highest + 0.9, -1.2, 7.3
    right = max(right, left + _LEAST_WIDTH)
    figure = Figure(figsize=((right - left) * _INCHES, (bottom - top) * _INCHES), facecolor=_PAPER)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_aspect("equal")
    axes.axis("off")
    axes.set_xlim(left, right)
    axes.set_ylim(bottom, top)
    _draw_neck(axes, lowest, highest)
    for home in neck_map.homes:
        _draw_home(axes, home, neck_map, names)
    position, tuning = roman(neck_map.position), neck_map.tuning.told
    title = say(f"chart.title.{neck_map.reading.value}", position=position, tuning=tuning)
    axes.text(lowest - 0.5, -0.55, title, fontproperties=_font("HomefretText-SemiBold", 15), color=_INK)
    axes.text(lowest - 0.5, 7.05, say("chart.legend"), fontproperties=_font("HomefretText-Italic", 10), color=_PENCIL)
    return figure, axes


def _font(name: str, size: float) -> FontProperties:
    return FontProperties(fname=str(shipped("content", "fonts", f"{name}.ttf")), size=size)


def _draw_neck(axes: Axes, lowest: int, highest: int) -> None:
    for string in range(1, 7):
        axes.plot((lowest - 0.5, highest + 0.5), (string, string), color=_PENCIL, lw=0.6 + 0.2 * string, zorder=1)
        axes.text(
            lowest - 0.8,
            string,
            str(string),
            ha="center",
            va="center",
            fontproperties=_font("HomefretFigures", 11),
            color=_PENCIL,
        )
    for fret in range(lowest, highest + 1):
        nut = fret == 0
        axes.plot((fret + 0.5, fret + 0.5), (1, 6), color=_INK if nut else _PENCIL, lw=3 if nut else 0.8, zorder=1)
        marked = fret in INLAYS
        axes.text(
            fret,
            0.42,
            str(fret),
            ha="center",
            va="center",
            fontproperties=_font("HomefretFigures", 11),
            color=_INK if marked else _PENCIL,
        )
        if marked:
            axes.add_patch(Circle((fret, 6.55), 0.05, color=_PENCIL))


def _draw_home(axes: Axes, home: Home, neck_map: NeckMap, names: NoteNames) -> None:
    written = spelled(home.sounding + 12 * neck_map.reading.octaves_down, Key(0))
    x, y = home.place.fret, home.place.string
    style = {Reach.IN_POSITION: "-", Reach.STRETCH: (0, (2, 1.5)), Reach.OUTLYING: "-"}[home.reach]
    if home.reach is Reach.OUTLYING:
        axes.plot(
            (x - 0.40, x + 0.40, x + 0.40, x - 0.40, x - 0.40),
            (y - 0.40, y - 0.40, y + 0.40, y + 0.40, y - 0.40),
            color=_INK,
            lw=1.2,
            zorder=3,
        )
    axes.add_patch(Circle((x, y), 0.37, facecolor=_PAPER, edgecolor=_INK, lw=1.2, linestyle=style, zorder=2))
    name = name_in(spelling_of(written), names)
    named = axes.text(
        x - 0.05,
        y + 0.11,
        name,
        ha="center",
        fontproperties=_font("HomefretText-Regular", 13 if len(name) <= _SHORT_NAME else 10),
        color=_INK,
        zorder=4,
    )
    axes.annotate(
        str(written.octave),
        xy=(1, 0),
        xycoords=named,
        fontproperties=_font("HomefretFigures", 7),
        color=_INK,
        zorder=4,
    )
