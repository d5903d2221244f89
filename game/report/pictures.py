"""The pictures of a report, each with its alternative in words."""

from collections.abc import Sequence
from datetime import date

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import Circle
from matplotlib.ticker import FuncFormatter, MaxNLocator, ScalarFormatter

from game.message import message
from game.music.names import NoteNames
from game.neck.neck_map import NeckMap
from game.paths import shipped
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures
from game.practice_log.queries.how_held import USUAL_HOLD, HowHeld
from game.report.figure_words import place_said, short_day
from game.report.inline_svg import inline_svg
from game.report.map_chart import chart_of
from game.report.plain_svg import Picture
from game.report.student import Span
from game.text.catalogue import as_sentence, in_figures, in_local_signs, say, tell

_INK, _READ, _PENCIL, _ACCENT, _PAPER = "#201d1a", "#1e4284", "#6b645a", "#b8482c", "#ffffff"
MOST_PASSAGES = 12


def first_sight(points: Sequence[DayFigures], span: Span) -> Picture | None:
    """The first-sight score over days or weeks, each with its interval; None without any."""
    points = [point for point in points if point.read]
    if not points:
        return None
    figure, axes = _axes(say("report.sight.axis"))
    places = range(len(points))
    shares = [point.share or 0.0 for point in points]
    for place, point, share in zip(places, points, shares, strict=True):
        axes.plot((place, place), point.interval, color=_PENCIL, lw=1.4, zorder=1)
        axes.plot(place, share, "o", ms=6, color=_READ, zorder=2)
    axes.set_ylim(0, 1.03)
    axes.yaxis.set_major_formatter(FuncFormatter(lambda share, _: in_figures(share, ".0%")))
    _days_below(axes, [point.day for point in points])
    alternative = say(
        f"report.sight.alternative.{span}",
        points=len(points),
        first=shares[0],
        last=shares[-1],
        least=min(shares),
        most=max(shares),
    )
    svg = inline_svg(figure, name="sight", alternative=alternative)
    return Picture(svg=svg, caption=say(f"report.sight.caption.{span}"))


def minutes(points: Sequence[DayFigures], span: Span) -> Picture:
    """Minutes practised by day or week."""
    figure, axes = _axes(say("report.minutes.axis"))
    amounts = [point.minutes for point in points]
    axes.bar(range(len(points)), amounts, width=0.7, color=_READ)
    axes.yaxis.set_major_locator(MaxNLocator(5, integer=True))
    axes.yaxis.set_major_formatter(_LocalFigures())
    _days_below(axes, [point.day for point in points])
    alternative = say(f"report.minutes.alternative.{span}", points=len(points), least=min(amounts), most=max(amounts))
    svg = inline_svg(figure, name="minutes", alternative=alternative)
    return Picture(svg=svg, caption=say(f"report.minutes.caption.{span}"))


def pace(points: Sequence[DayFigures], span: Span) -> Picture | None:
    """Notes found a second, where rhythm was not asked; None without any."""
    points = [point for point in points if point.notes_a_second is not None]
    if not points:
        return None
    figure, axes = _axes(say("report.pace.axis"))
    paces = [point.notes_a_second or 0.0 for point in points]
    surely = [point.pace_interval or (pace, pace) for point, pace in zip(points, paces, strict=True)]
    axes.vlines(range(len(points)), *zip(*surely, strict=True), color=_PENCIL, lw=1.5)
    axes.plot(range(len(points)), paces, "o", ms=6, color=_READ)
    axes.set_ylim(0, max(high for _, high in surely) * 1.1)
    axes.yaxis.set_major_formatter(_LocalFigures())
    _days_below(axes, [point.day for point in points])
    alternative = say(f"report.pace.alternative.{span}", points=len(points), first=paces[0], last=paces[-1])
    svg = inline_svg(figure, name="pace", alternative=alternative)
    return Picture(svg=svg, caption=say(f"report.pace.caption.{span}"))


def slow_on_the_neck(
    neck_map: NeckMap, slow: Sequence[NoteFigures], names: NoteNames, held: HowHeld = USUAL_HOLD
) -> Picture:
    """The map with slow or unsure notes circled in pencil."""
    figure, axes, neck = chart_of(neck_map, names, held)
    for note in {(note.string, note.fret): note for note in reversed(slow)}.values():
        x, y = neck.x(note.fret), neck.y(note.string)
        axes.add_patch(Circle((x, y), 0.47, fill=False, edgecolor=_ACCENT, lw=2.4, zorder=5))
        if note.find_s is not None:
            axes.text(
                x + 0.34,
                y + 0.5,
                in_figures(note.find_s, ".1f"),
                fontproperties=_font("Regular", 9),
                color=_ACCENT,
                zorder=6,
            )
    alternative = say("report.map.none_circled")
    if slow:
        places = ", ".join(place_said(note.string, note.fret) for note in slow)
        alternative = say("report.map.circled", homes=len(slow), places=places)
    alternative = " ".join((alternative, *(as_sentence(tell(one)) for one in held.told)))
    svg = inline_svg(figure, name="map", alternative=alternative)
    return Picture(svg=svg, caption=say("report.map.caption"))


def tempi(passages: Sequence[PassageFigures]) -> Picture | None:
    """The fastest clean tempo of the passages played last, against their targets; None where none has one. Each has the
    number of its place among `passages`.
    """
    numbered = [(number, passage) for number, passage in enumerate(passages, start=1) if passage.clean_bpm]
    numbers = [number for number, _ in numbered[:MOST_PASSAGES]]
    shown = [passage for _, passage in numbered[:MOST_PASSAGES]]
    if not shown:
        return None
    svg = inline_svg(_tempo_bars(shown, numbers), name="tempi", alternative=_tempi_said(shown, numbers))
    return Picture(svg=svg, caption=say("report.tempi.caption"))


def _tempo_bars(shown: Sequence[PassageFigures], numbers: Sequence[int]) -> Figure:
    figure = Figure(figsize=(9, 0.9 + 0.42 * len(shown)), facecolor=_PAPER)
    FigureCanvasAgg(figure)
    height = 0.9 + 0.42 * len(shown)
    axes = figure.add_axes((0.06, 0.6 / height, 0.9, 1 - 0.7 / height), facecolor=_PAPER)
    for row, passage in enumerate(shown):
        clean_bpm = passage.clean_bpm or 0.0
        axes.plot((0, clean_bpm), (row, row), color=_READ, lw=5, solid_capstyle="butt")
        if passage.target_bpm:
            axes.plot((passage.target_bpm,) * 2, (row - 0.35, row + 0.35), color=_ACCENT, lw=2)
        axes.text(clean_bpm, row, f" {clean_bpm:.0f}", va="center", fontproperties=_font("Regular", 10), color=_INK)
    axes.set_ylim(len(shown) - 0.4, -0.6)
    most = max(max(passage.clean_bpm or 0, passage.target_bpm or 0) for passage in shown)
    axes.set_xlim(0, most * 1.1)
    axes.set_yticks(range(len(shown)), [str(number) for number in numbers])
    axes.set_xlabel(say("report.tempi.axis"), color=_INK, fontproperties=_font("Regular", 11))
    _plain(axes)
    return figure


def _tempi_said(shown: Sequence[PassageFigures], numbers: Sequence[int]) -> str:
    """The picture in words."""
    tempi = tuple(
        message("report.tempi.passage", number=number, tempo=passage.clean_bpm, target=passage.target_bpm)
        if passage.target_bpm
        else message("report.tempi.passage_without_target", number=number, tempo=passage.clean_bpm)
        for number, passage in zip(numbers, shown, strict=True)
    )
    return say("report.tempi.alternative", passages=len(shown), tempi=tempi)


class _LocalFigures(ScalarFormatter):
    """Figures beside an axis as matplotlib chooses them, with the signs of the language."""

    def __call__(self, value: float, pos: int | None = None) -> str:
        return in_local_signs(super().__call__(value, pos))


def _axes(label: str) -> tuple[Figure, Axes]:
    figure = Figure(figsize=(9, 3), facecolor=_PAPER)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0.09, 0.16, 0.89, 0.78), facecolor=_PAPER)
    axes.set_ylabel(label, color=_INK, fontproperties=_font("Regular", 11))
    return figure, axes


def _days_below(axes: Axes, days: Sequence[date]) -> None:
    """Some of the days under the axis, as many as can be read."""
    step = max(1, -(-len(days) // 8))
    shown = list(range(0, len(days), step))
    axes.set_xticks(shown, [short_day(days[place]) for place in shown])
    axes.set_xlim(-0.6, max(len(days) - 0.4, 5))
    _plain(axes)


def _plain(axes: Axes) -> None:
    for label in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        label.set_fontproperties(_font("Regular", 10))
        label.set_color(_INK)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def _font(weight: str, size: float) -> FontProperties:
    return FontProperties(fname=str(shipped("content", "fonts", f"HomefretText-{weight}.ttf")), size=size)
