"""The three chapters of progress: what their figures are, and what their dots and curves show."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil
from typing import Final

from game.lines.titles import title_told
from game.music.names import NoteNames
from game.screens.choosing.lines_read import LineRead
from game.screens.progress.progress_figures import Progress
from game.screens.progress.progress_words import notes_in_words
from game.screens.progress.sight_curve import FEWEST, CurvePoint, Strayed, curve_through, share_of_notes
from game.text.catalogue import in_figures, say, tell

OF: Final = 20
"""Unseen notes are told of so many."""

_LINES_SHOWN, _TOLD_OF, _SIGNED_SHOWN = 24, 5, 24
_TOPS: Final = (2.0, 4.0, 8.0, 12.0, 20.0)
_IN_HALVES = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartDot:
    """A value at its place in the row, with what stands in it; the newest is ringed."""

    value: float
    day: date
    inside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartCurve:
    """A curve through some of the dots: where each stands in the row, and the band there, nine of ten dots wide."""

    places: tuple[int, ...]
    points: tuple[CurvePoint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A chapter: its figure, which names its total, a sentence that says what it is of, quieter ones below, and the
    chart, whose axis goes from 0 to `top`. `dot` and `band` are what dots and bands are.
    """

    title: str
    figure: str
    unit: str
    sentence: str
    below: tuple[str, ...] = ()
    dots: tuple[ChartDot, ...] = ()
    curves: tuple[ChartCurve, ...] = ()
    top: float = 1.0
    dot: str = ""
    band: str = ""
    ringed: int | None = None
    bounds: tuple[str, ...] = ()


def chapters(progress: Progress, names: NoteNames) -> tuple[Chapter, Chapter, Chapter]:
    """Unseen notes right of twenty, seconds to find a note, and the highest that was signed."""
    return _sight(progress), _find(progress, names), _signed(progress)


def _sight(progress: Progress) -> Chapter:
    lines = progress.lines[-_LINES_SHOWN:]
    curves = _curves_by_level(lines)
    newest = [line for line in progress.lines if line.level == progress.lines[-1].level] if progress.lines else []
    right, notes = _together(newest[-_TOLD_OF:])
    last = progress.warning or progress.own_map
    ahead = (*progress.outlook[:1], *((last,) if last else ()))
    return Chapter(
        title=say("progress.at_sight"),
        figure=str(round(OF * right / notes)) if notes else "–",
        unit=say("progress.of_twenty", notes=OF) if notes else "",
        sentence=_sight_sentence(newest),
        below=(*_too_few(lines, curves), *map(tell, ahead))[:2],
        dots=tuple(_line_dot(line) for line in lines),
        curves=curves,
        top=float(OF),
        dot=say("progress.dot_line"),
        band=say("progress.band_lines") if curves else "",
        ringed=len(lines) - 1 if lines else None,
        bounds=tuple(map(str, range(0, OF + 1, 5))),
    )


def _line_dot(line: LineRead) -> ChartDot:
    return ChartDot(value=OF * line.sight.clean / line.sight.notes, day=line.sight.day, inside=str(line.level))


def _curves_by_level(lines: Sequence[LineRead]) -> tuple[ChartCurve, ...]:
    """A curve for each level of which there are enough lines: none goes from one to another."""
    curves = []
    for level in sorted({line.level for line in lines}):
        places = tuple(at for at, line in enumerate(lines) if line.level == level)
        of_level = [lines[at].sight for at in places]
        right, notes = _together([lines[at] for at in places])
        values = [share_of_notes(sight.clean, sight.notes, right / notes) for sight in of_level]
        points = tuple(
            CurvePoint(middle=OF * one.middle, low=OF * one.low, high=OF * one.high)
            for one in curve_through(values, most=1.0)
        )
        if points:
            curves.append(ChartCurve(places=places, points=points))
    return tuple(curves)


def _together(lines: Sequence[LineRead]) -> tuple[int, int]:
    """How many notes of some lines were right, and how many there were."""
    return sum(line.sight.clean for line in lines), sum(line.sight.notes for line in lines)


def _sight_sentence(lines: Sequence[LineRead]) -> str:
    """What the figure is of, and what it was at first, in lines of the same level."""
    if not lines:
        return say("progress.no_line")
    right, notes = _together(lines[-_TOLD_OF:])
    values = {"level": lines[-1].level, "right": right, "notes": notes}
    said = say("progress.sight_now", count=min(len(lines), _TOLD_OF), **values)
    if len(lines) < 2 * _TOLD_OF:
        return said
    right, notes = _together(lines[:_TOLD_OF])
    return f"{said} {say('progress.sight_then', before=round(OF * right / notes), notes=OF)}"


def _too_few(lines: Sequence[LineRead], curves: Sequence[ChartCurve]) -> tuple[str, ...]:
    """Why there is no curve."""
    if curves or not lines:
        return ()
    if len(lines) < FEWEST:
        return (say("progress.too_few_lines", fewest=FEWEST, count=len(lines)),)
    return (say("progress.too_few_of_a_level", fewest=FEWEST),)


def _find(progress: Progress, names: NoteNames) -> Chapter:
    days = [day for day in progress.days if day.found]
    values = [Strayed(value=day.found_s / day.found, weight=day.found) for day in days]
    points = curve_through(values)
    found, found_s = sum(day.found for day in days[-_TOLD_OF:]), sum(day.found_s for day in days[-_TOLD_OF:])
    top = _top([one.value for one in values] + [one.high for one in points])
    curves = (ChartCurve(places=tuple(range(len(days))), points=points),) if points else ()
    return Chapter(
        title=say("progress.to_find"),
        figure=in_figures(found_s / found, ".1f") if found else "–",
        unit=say("progress.seconds") if found else "",
        sentence=say("progress.find_now", count=len(days[-_TOLD_OF:]), found=found)
        if found
        else say("progress.no_find"),
        below=notes_in_words(progress, names),
        dots=tuple(ChartDot(value=one.value, day=day.day) for one, day in zip(values, days, strict=True)),
        curves=curves,
        top=top,
        dot=say("progress.dot_day"),
        band=say("progress.band_days") if curves else "",
        ringed=len(days) - 1 if days else None,
        bounds=_bounds(top),
    )


def _signed(progress: Progress) -> Chapter:
    shown = progress.signed[-_SIGNED_SHOWN:]
    paces = [one.notes_a_second for one in shown]
    best = max(progress.signed, key=lambda one: one.notes_a_second, default=None)
    top = _top(paces)
    sentence = (
        say(
            "progress.signed_now",
            title=title_told(best.title),
            first=best.first,
            last=best.last,
            bpm=round(best.bpm),
        )
        if best
        else say("progress.none_signed")
    )
    return Chapter(
        title=say("progress.highest_signed"),
        figure=in_figures(best.notes_a_second, ".1f") if best else "–",
        unit=say("progress.notes_a_second") if best else "",
        sentence=sentence,
        below=(say("progress.signed_in_all", count=len(progress.signed)),) if best else (),
        dots=tuple(ChartDot(value=pace, day=one.day) for pace, one in zip(paces, shown, strict=True)),
        top=top,
        dot=say("progress.dot_signed"),
        ringed=shown.index(best) if best in shown else None,
        bounds=_bounds(top),
    )


def _top(values: Sequence[float]) -> float:
    """A round number that no value is above."""
    most = max(values, default=0.0)
    return next((top for top in _TOPS if top >= most), float(_TOPS[-1] * ceil(most / _TOPS[-1])))


def _bounds(top: float) -> tuple[str, ...]:
    """What stands at the lines of the axis, from 0 up."""
    spec = ".1f" if top == _IN_HALVES else ".0f"
    return tuple(in_figures(top * part / 4, spec) for part in range(5))
