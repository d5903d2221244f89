"""The tempo of a passage from take to take, as a picture: what was played, whether clean, and the target."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.ticker import MaxNLocator

from game.paths import shipped
from game.text.catalogue import say

_INK, _READ, _PENCIL, _ACCENT, _PAPER = "#201d1a", "#1e4284", "#8b8378", "#b8482c", "#faf4e7"


@dataclass(frozen=True, slots=True, kw_only=True)
class TempoPoint:
    """One take with the metronome: its day (from 1), its tempo in the metre's own beat, and whether it was clean: right
    and in time.
    """

    day: int
    tempo_bpm: float
    clean: bool


def draw_tempo_curve(points: Sequence[TempoPoint], *, target_bpm: float, title: str, out: Path) -> None:
    """Write the picture. Full dots were clean, open ones not; days are told apart by light lines."""
    figure = Figure(figsize=(9, 4.6), facecolor=_PAPER)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0.09, 0.14, 0.87, 0.72), facecolor=_PAPER)
    takes = range(1, len(points) + 1)
    tempos = [point.tempo_bpm for point in points]
    axes.plot(takes, tempos, color=_PENCIL, lw=1, zorder=1)
    for take, point in zip(takes, points, strict=True):
        axes.plot(take, point.tempo_bpm, "o", ms=8, color=_READ, mfc=_READ if point.clean else _PAPER, zorder=2)
    axes.axhline(target_bpm, color=_ACCENT, lw=1, ls=(0, (4, 3)))
    top = max([*tempos, target_bpm]) * 1.06
    axes.set_ylim(min(tempos, default=50) * 0.9, top)
    axes.set_xlim(0.4, max(len(points), 1) + 0.6)
    days = [point.day for point in points]
    for index, day in enumerate(days):
        if index == 0 or day != days[index - 1]:
            axes.axvline(index + 0.6, color=_PENCIL, lw=0.5, alpha=0.5)
            axes.text(
                index + 0.7, top, say("curve.day", day=day), va="top", color=_PENCIL, fontproperties=_font("Italic", 10)
            )
    axes.xaxis.set_major_locator(MaxNLocator(integer=True))
    axes.set_xlabel(say("curve.take"), color=_INK, fontproperties=_font("Regular", 11))
    axes.set_ylabel(say("curve.tempo"), color=_INK, fontproperties=_font("Regular", 11))
    for label in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        label.set_fontproperties(_font("Regular", 10))
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    figure.text(0.09, 0.91, title, color=_INK, fontproperties=_font("SemiBold", 15))
    figure.text(0.09, 0.015, say("curve.legend"), color=_PENCIL, fontproperties=_font("Italic", 9))
    figure.savefig(out, dpi=120)


def _font(weight: str, size: float) -> FontProperties:
    return FontProperties(fname=str(shipped("content", "fonts", f"HomefretText-{weight}.ttf")), size=size)
