"""The map as a sheet to print: every written note on the staff, below it the neck with every home in its place.

One page of A4 across, within margins that Letter has too; on white, readable in black and white.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from game.errors import MapError
from game.message import Message, message
from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import DEFAULT_FRETS
from game.paths import write_whole_file
from game.practice_log.queries.how_held import USUAL_HOLD, HowHeld
from game.report.chart_ink import INK, PAPER, PENCIL, POINTS_PER_MM, SLANTED, STRONG, TEXT, font, text_width_mm
from game.report.chart_neck import ChartNeck, draw_homes, draw_neck, draw_positions
from game.report.chart_staff import staff_for
from game.text.catalogue import say, tell

CHART_ENDINGS = (".png", ".pdf", ".svg")
PROGRAM = "Homefret"
"""Stands in every chart as the program that made it."""

A4_ACROSS_MM = (297.0, 210.0)
CONTENT_MM = (250.0, 186.0)
"""In the middle of the page: within the margins of 12 mm that a page of Letter across (279.4 by 215.9 mm) has then."""

_DPI = 200
_INCHES = 0.62
_LEAST_WIDTH = 10.5
_TITLE_PT, _FACTS_PT, _LEGEND_PT, _NECK_TITLE_PT = 19.0, 10.5, 9.5, 15.0
# In mm.
_TITLE_MM, _FACTS_MM, _HEAD_MM, _LEGEND_LINE_MM, _APART_MM, _ROWS_APART_MM = 7.0, 13.5, 17.0, 4.4, 6.0, 4.0
_STRINGS_MM, _MOST_STRING_MM, _WIDEST_FRET = (9.5, 8.2, 7.0), 12.5, 1.9
_LEAST_FRETS = 8
# Of the neck's height beside the strings, in gaps between strings: fret numbers above, inlays and numerals below.
_ABOVE_NECK, _BELOW_NECK = 0.95, 1.15


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartStyle:
    """How a chart is to be: what notes are called, for which hand, with a capo at which fret (0 for none), or blank
    for names and places to be filled in by pencil.
    """

    names: NoteNames = NoteNames.ENGLISH
    left_handed: bool = False
    capo: int = 0
    blank: bool = False


def chart_bytes(neck_map: NeckMap, ending: str, style: ChartStyle | None = None) -> bytes:
    """The chart as a file with an ending of `CHART_ENDINGS` has it. Raises `MapError` for a map without homes."""
    figure, _ = map_sheet(neck_map, style or ChartStyle())
    made = {".png": {"Software": PROGRAM}, ".pdf": {"Creator": PROGRAM, "CreationDate": None}}
    metadata = made.get(ending.lower(), {"Creator": PROGRAM, "Date": None})
    out = BytesIO()
    # Outlines in SVG, so that no font is asked for; whole faces in PDF, so that its words can be looked for.
    with rc_context({"svg.fonttype": "path", "svg.hashsalt": PROGRAM, "pdf.fonttype": 42}):
        figure.savefig(out, format=ending.lower().removeprefix("."), dpi=_DPI, metadata=metadata)
    return out.getvalue()


def write_chart(neck_map: NeckMap, out: Path, style: ChartStyle | None = None) -> None:
    """Write the chart, whole or not at all; the ending of `out` says how (.png, .pdf, .svg). Raises `OSError` when it
    cannot be written.
    """
    write_whole_file(out, chart_bytes(neck_map, out.suffix, style))


def write_beside(chart: Path, ending: str, text: str) -> None:
    """Write what belongs to a chart under its name with another ending, whole or not at all. Raises `OSError`."""
    write_whole_file(chart.with_suffix(ending), text.encode("utf-8"))


def map_sheet(neck_map: NeckMap, style: ChartStyle) -> tuple[Figure, Axes]:
    """The sheet as a figure, and its axes in mm from the top left corner. Raises `MapError` for a map without homes."""
    if not neck_map.homes:
        raise MapError("chart.nothing_to_draw")
    figure, axes = _page()
    left, top = ((page - content) / 2 for page, content in zip(A4_ACROSS_MM, CONTENT_MM, strict=True))
    width, bottom = CONTENT_MM[0], top + CONTENT_MM[1]
    _draw_head(axes, neck_map, style, (left, top))
    legend = _legend(neck_map, style, width)
    legend_top = bottom - len(legend) * _LEGEND_LINE_MM
    for row, line in enumerate(legend):
        at = (left, legend_top + (row + 0.8) * _LEGEND_LINE_MM)
        axes.text(*at, line, fontproperties=font(SLANTED, _LEGEND_PT), color=INK)
    top += _HEAD_MM
    names = None if style.blank else style.names
    neck_gaps = len(neck_map.tuning.open_strings) - 1 + _ABOVE_NECK + _BELOW_NECK
    room = legend_top - top - 2 * _APART_MM
    heights = [room - neck_gaps * string for string in _STRINGS_MM]
    staff = staff_for(neck_map, names, width, heights, _ROWS_APART_MM)
    staff.draw(axes, left, top, neck_map, _ROWS_APART_MM)
    taken = staff.height_mm(_ROWS_APART_MM)
    neck = _neck_on_page(neck_map, style, (left, top + taken + _APART_MM), (width, room - taken))
    draw_positions(axes, neck, neck_map)
    draw_neck(axes, neck)
    draw_homes(axes, neck, neck_map, names)
    return figure, axes


def chart_of(
    neck_map: NeckMap, names: NoteNames = NoteNames.ENGLISH, held: HowHeld = USUAL_HOLD
) -> tuple[Figure, Axes, ChartNeck]:
    """The neck alone as a figure, its homes called by `names`, with its axes and where places are on them."""
    shown = [home.place.fret for home in neck_map.homes]
    lowest, highest = max(0, min(shown) - 1), max(shown) + 1
    strings = len(neck_map.tuning.open_strings)
    beside, before = (0.9, 1.4) if held.left_handed else (1.4, 0.9)
    left, right, top, bottom = lowest - beside, highest + before, -1.2, strings + 1.3
    right = max(right, left + _LEAST_WIDTH)
    figure = Figure(figsize=((right - left) * _INCHES, (bottom - top) * _INCHES), facecolor=PAPER)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_aspect("equal")
    axes.axis("off")
    axes.set_xlim(left, right)
    axes.set_ylim(bottom, top)
    neck = ChartNeck(
        strings=strings,
        lowest=lowest,
        highest=highest,
        left=lowest,
        unit_pt=72 * _INCHES,
        mirrored=held.left_handed,
        capo=held.capo,
    )
    draw_neck(axes, neck)
    draw_homes(axes, neck, neck_map, names)
    position, tuning = "–".join(map(roman, neck_map.positions)), neck_map.tuning.told
    title = say(f"chart.title.{neck_map.reading.value}", position=position, tuning=tuning)
    room_mm = (right - lowest) * _INCHES * 25.4
    size = min(_NECK_TITLE_PT, _NECK_TITLE_PT * room_mm / max(1.0, text_width_mm(title, STRONG, _NECK_TITLE_PT)))
    axes.text(lowest - 0.5, -0.55, title, fontproperties=font(STRONG, size), color=INK)
    facts = " · ".join(map(tell, held.told))
    axes.text(lowest - 0.5, -0.08, facts, fontproperties=font(TEXT, 11), color=INK)
    axes.text(lowest - 0.5, strings + 1.05, say("chart.legend"), fontproperties=font(SLANTED, 10), color=PENCIL)
    return figure, axes, neck


def _page() -> tuple[Figure, Axes]:
    width, height = A4_ACROSS_MM
    figure = Figure(figsize=(width / 25.4, height / 25.4), facecolor=PAPER)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.axis("off")
    axes.set_xlim(0, width)
    axes.set_ylim(height, 0)
    return figure, axes


def _draw_head(axes: Axes, neck_map: NeckMap, style: ChartStyle, at: tuple[float, float]) -> None:
    left, top = at
    positions = tuple(roman(position) for position in neck_map.positions)
    key = "chart.sheet.title" if len(positions) == 1 else "chart.sheet.title_joined"
    title = say(key, position=positions[0], higher=positions[-1], tuning=neck_map.tuning.told)
    size = min(_TITLE_PT, _TITLE_PT * CONTENT_MM[0] / max(1.0, text_width_mm(title, STRONG, _TITLE_PT)))
    axes.text(left, top + _TITLE_MM, title, fontproperties=font(STRONG, size), color=INK)
    facts = " · ".join(tell(fact) for fact in _facts(neck_map, style))
    axes.text(left, top + _FACTS_MM, facts, fontproperties=font(TEXT, _FACTS_PT), color=INK)


def _facts(neck_map: NeckMap, style: ChartStyle) -> Sequence[Message]:
    """What else somebody needs to know who reads by this sheet."""
    facts = [message("chart.sheet.octave_below" if neck_map.reading.octaves_down else "chart.sheet.as_written")]
    if neck_map.second is not None:
        written = spelled(neck_map.second.seam + 12 * neck_map.reading.octaves_down, Key(0))
        note = f"{name_in(spelling_of(written), style.names)}{written.octave}"
        facts.append(message("chart.sheet.seam", note=note, higher=roman(neck_map.positions[-1])))
    if style.capo:
        facts.append(message("chart.sheet.capo", fret=style.capo))
    if neck_map.frets != DEFAULT_FRETS:
        facts.append(message("chart.sheet.frets", frets=neck_map.frets))
    if style.left_handed:
        facts.append(message("chart.sheet.left_handed"))
    return facts


def _legend(neck_map: NeckMap, style: ChartStyle, width_mm: float) -> list[str]:
    """The lines at the foot: what rings mean of which there are any, and a word for hands that stretch."""
    stretched = any(home.stretch for home in neck_map.homes)
    said = [say("chart.sheet.below_staff"), say("chart.sheet.full_ring")]
    if style.blank:
        said = [say("chart.sheet.to_fill_in"), say("chart.sheet.full_ring")]
    if stretched:
        said.append(say("chart.sheet.broken_ring"))
    if any(home.outlying for home in neck_map.homes):
        said.append(say("chart.sheet.square"))
    if stretched:
        said.append(say("chart.sheet.care"))
    lines = [said[0]]
    for sentence in said[1:]:
        longer = f"{lines[-1]}   {sentence}"
        if text_width_mm(longer, SLANTED, _LEGEND_PT) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(sentence)
    return lines


def _neck_on_page(
    neck_map: NeckMap, style: ChartStyle, at: tuple[float, float], room: tuple[float, float]
) -> ChartNeck:
    """As large as its room allows, cells wider than high, never wider than looks like a neck."""
    strings = len(neck_map.tuning.open_strings)
    shown = [home.place.fret for home in neck_map.homes]
    lowest, highest = max(0, min(shown) - 1), min(neck_map.frets, max(shown) + 1)
    highest = min(neck_map.frets, max(highest, lowest + _LEAST_FRETS - 1))
    gap = min(_MOST_STRING_MM, room[1] / (strings - 1 + _ABOVE_NECK + _BELOW_NECK))
    fret_width = min(_WIDEST_FRET * gap, room[0] / (highest - lowest + 1 + 0.6))
    numbers = 0.0 if style.left_handed else 0.6 * fret_width
    return ChartNeck(
        strings=strings,
        lowest=lowest,
        highest=highest,
        left=at[0] + numbers + fret_width / 2,
        top=at[1] + _ABOVE_NECK * gap,
        fret_width=fret_width,
        string_gap=gap,
        radius=min(0.42 * gap, 0.43 * fret_width),
        unit_pt=POINTS_PER_MM,
        mirrored=style.left_handed,
        capo=style.capo,
    )
