"""The heading of a sheet after a take: title, which bars and how, and at its end the marks."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from game.coach.shown_marks import READ, ShownMark
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.fitted_line import SMALLEST
from game.desk.kit.mark_words import WordedMark, draw_marks, marks_width
from game.desk.typography import Face, shortened
from game.practice.take_request import TakeRequest
from game.screens.reading.page_heading import bars_of_request, stage_in_words
from game.text.catalogue import say, tell

_TITLE_SIZE, _WHERE_SIZE, _BASELINE = 38.0, 24.0, 84.0
# So small a title is set before it is cut.
_LEAST_TITLE_SIZE = 28.0
_BETWEEN, _TO_MARKS = 20.0, 40.0
# So much of a title is in sight whatever else there is to say.
_LEAST_TITLE = 260.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageHeading:
    """What stands above: title, where and how it was played, and the marks."""

    title: str
    where: str
    marks: tuple[WordedMark, ...] = ()


def played_in_words(request: TakeRequest) -> str:
    """Which bars were played, and how: "bars 9-12 at 65", "bars 9-12, pitch only"."""
    bars = bars_of_request(request)
    if request.free_reading:
        bars = say("result.free_reading", bars=bars)
    if request.tempo_bpm is None or request.one_a_click:
        return say("result.how", bars=bars, how=stage_in_words(request))
    return say("result.at", bars=bars, bpm=request.tempo_bpm)


def worded_marks(marks: Iterable[ShownMark]) -> tuple[WordedMark, ...]:
    """Marks as the kit draws them. *Read* is earned at the first sightings or never: it is shown where it was."""
    told = (mark for mark in marks if mark.earned or mark.said != READ)
    return tuple(
        WordedMark(tell(mark.said), mark.earned, say("result.new") if mark.new else "", by_word=mark.by_word)
        for mark in told
    )


def draw_passage_heading(canvas: Canvas, heading: PassageHeading, page_right: float) -> None:
    """The heading in one line. The marks end with the page, at `page_right` in units, or where there is more to say at
    the margin, above the ladder; for what then has no room the title is set smaller, then what stands after it, and
    only then both are cut, that first.
    """
    area, unit, theme = canvas.sheet.text_area, canvas.sheet.unit, canvas.theme
    left, margin = area.left / unit, area.right / unit
    title, where = Style(Face.TITLE, _TITLE_SIZE, theme.ink), Style(Face.ITALIC, _WHERE_SIZE, theme.faded)
    marks = marks_width(canvas, heading.marks)
    taken = marks + _TO_MARKS if marks else 0.0
    wanted = canvas.width_of(heading.title, title) + _BETWEEN + canvas.width_of(heading.where, where)
    right = page_right if left + wanted + taken <= page_right else margin
    room = right - left - taken - _BETWEEN
    title, where = _smaller(canvas, heading, (title, where), room)
    least = min(_LEAST_TITLE, canvas.width_of(heading.title, title))
    of_where = min(canvas.width_of(heading.where, where), room - least)
    shown = _cut(canvas, heading.title, title, room - of_where)
    canvas.write(shown, (left, _BASELINE), title)
    x = left + canvas.width_of(shown, title) + _BETWEEN
    canvas.write(_cut(canvas, heading.where, where, left + room + _BETWEEN - x), (x, _BASELINE), where)
    draw_marks(canvas, heading.marks, right - marks, _BASELINE)


def _smaller(canvas: Canvas, heading: PassageHeading, styles: tuple[Style, Style], room: float) -> tuple[Style, Style]:
    """The styles of the title and of what stands after it, each as small as both together need and may be."""
    title, where = styles
    while _width(canvas, heading, title, where) > room and title.size > _LEAST_TITLE_SIZE:
        title = replace(title, size=title.size - 1)
    while _width(canvas, heading, title, where) > room and where.size > SMALLEST:
        where = replace(where, size=where.size - 1)
    return title, where


def _width(canvas: Canvas, heading: PassageHeading, title: Style, where: Style) -> float:
    return canvas.width_of(heading.title, title) + canvas.width_of(heading.where, where)


def _cut(canvas: Canvas, text: str, style: Style, width: float) -> str:
    return shortened(text, style.face, canvas.px(style.size), canvas.px(width))
