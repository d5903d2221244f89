"""A take's page: its bars engraved, its notes as they were read, and the pencil marks, as one picture in a report."""

from collections.abc import Collection, Iterator, Mapping
from html import escape

from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.shapes import STAFF_HEIGHT_SPACES, Box, Engraving, Shape, System, bounding_box, boxes_of
from game.judging.summary import summary_of
from game.judging.verdicts import OF_PACE, NoteVerdict, Verdict
from game.lines.titles import title_told
from game.message import Message, message
from game.music.names import NoteNames
from game.music.passage import Passage
from game.music.written import HeadId
from game.practice.finished_take import clean_heads
from game.practice.pencilled import PlacedMark, marks_of, pace_marks
from game.report import figure_words
from game.report.mark_shapes import mark_shapes, slow_shapes
from game.report.pencil_strokes import written
from game.report.pencilled_takes import PencilledTake
from game.report.plain_svg import Picture
from game.text.catalogue import say

WIDTH_SPACES = 62.0
"""Four bars a line, large enough to be read in print."""

MOST_LINES = 4
"""A longer page shows only the lines with marks, and at most so many. Ours."""

_INK, _READ, _QUIET = "#201d1a", "#1e4284", "#57504a"
_STAFF_LINE, _GAP, _EDGE = 0.09, 1.2, 0.4
_MOST_SAID = 24
_MOST_ON_A_LINE = 3


def pencil_page(take: PencilledTake, names: NoteNames = NoteNames.ENGLISH) -> Picture | None:
    """The page of a take; None where its notes cannot be engraved."""
    passage = take.passage
    try:
        engraving = _engraved(passage)
    except ValueError:
        return None
    marks = tuple(_marks(take))
    slow = {take.expected[n - 1].note.heads[0]: seconds for n, seconds in take.slow.items()}
    marked = {mark.head for mark in marks} | set(slow)
    systems = [system for system in engraving.systems if system.head_boxes]
    if len(systems) > MOST_LINES:
        systems = [system for system in systems if not marked.isdisjoint(system.head_boxes)][:MOST_LINES]
    clean = clean_heads(take.expected, take.judgement.verdicts)
    lines = [(system, tuple(_pencil(system, marks, slow))) for system in systems]
    alternative = say("report.page.alternative", where=_where(take), marks=_said(take, names))
    caption = _caption(take, whole=len(systems) == len(engraving.systems))
    return Picture(svg=_svg(lines, clean, alternative), caption=caption)


def _engraved(passage: Passage) -> Engraving:
    """The bars as on a page; a few of them on one line, more loosely set, where that leaves room for the pencil."""
    if len(passage.bars) <= _MOST_ON_A_LINE:
        line = lay_out_line(passage.bars, passage.reading, final_barline=False)
        if line.systems[0].right - line.systems[0].left <= WIDTH_SPACES:
            return line
    return lay_out_page(passage.bars, passage.reading, WIDTH_SPACES, final_barline=False)


def _marks(take: PencilledTake) -> Iterator[PlacedMark]:
    bars = take.passage.bars
    for note, verdict in zip(take.expected, take.judgement.verdicts, strict=True):
        key = bars[note.note.heads[0].bar].key
        yield from marks_of(note, verdict, key=key, reading=take.passage.reading)
    words = {kind: say(f"page.{kind.name.lower()}") for kind in OF_PACE}
    yield from pace_marks(take.expected, take.judgement.events, words)


def _pencil(system: System, marks: Collection[PlacedMark], slow: Mapping[HeadId, float]) -> Iterator[Shape]:
    for mark in marks:
        if mark.head in system.head_boxes:
            yield from mark_shapes(system, mark)
    for head, seconds in slow.items():
        if head in system.head_boxes:
            yield from slow_shapes(system, head, seconds)


def _svg(lines: list[tuple[System, tuple[Shape, ...]]], clean: frozenset[HeadId], alternative: str) -> str:
    """The lines one under the other in one `<svg>` element."""
    drawn, down, width = [], _EDGE, WIDTH_SPACES + 2 * _EDGE
    for system, pencil in lines:
        numbers = tuple(_bar_numbers(system))
        extent = bounding_box((*boxes_of(system), *(shape.box for shape in (*pencil, *numbers)), _staff(system)))
        move = down - extent.top
        body = "".join((_print(system, clean), *(shape.svg for shape in (*numbers, *pencil))))
        drawn.append(f'<g transform="translate({_units(_EDGE - system.left)},{_units(move)})">{body}</g>')
        down += extent.bottom - extent.top + _GAP
        width = max(width, system.right - system.left + 2 * _EDGE)
    view = f"0 0 {_units(width)} {_units(down - _GAP + _EDGE)}"
    said = escape(alternative, quote=True)
    opening = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" role="img" aria-label="{said}">'
    return f"{opening}{''.join(drawn)}</svg>"


def _bar_numbers(system: System) -> Iterator[Shape]:
    for text in system.texts:
        yield written(text.text, (text.x, text.baseline), 1.15, _QUIET, anchor="start")


def _print(system: System, clean: frozenset[HeadId]) -> str:
    """What is engraved: what was read clean in blue-black, all else in ink."""
    ink = [shape.svg for shape in (*system.opening, *system.ground)]
    read: list[str] = []
    for head, shapes in system.groups.items():
        (read if head in clean else ink).extend(shape.svg for shape in shapes)
    for join in system.joins:
        (read if join.heads and clean.issuperset(join.heads) else ink).extend(shape.svg for shape in join.shapes)
    return f"{_staff_lines(system)}{_coloured(ink, _INK)}{_coloured(read, _READ)}"


def _coloured(shapes: list[str], colour: str) -> str:
    body = "".join(shapes).replace('stroke="#fff"', f'stroke="{colour}"')
    return f'<g fill="{colour}">{body}</g>' if shapes else ""


def _staff_lines(system: System) -> str:
    left, right = _units(system.left), _units(system.right)
    rows = (_units(system.top_line + line) for line in range(int(STAFF_HEIGHT_SPACES) + 1))
    outline = "".join(f"M{left},{row}H{right}" for row in rows)
    return f'<path d="{outline}" stroke="{_INK}" stroke-width="{_units(_STAFF_LINE)}"/>'


def _staff(system: System) -> Box:
    return Box(system.left, system.top_line, system.right, system.top_line + STAFF_HEIGHT_SPACES)


def _units(spaces: float) -> int:
    return round(spaces * UNITS_PER_SPACE)


def _where(take: PencilledTake) -> Message:
    bars = figure_words.bars_said(take.bars.first, take.bars.last)
    return message("report.page.where", title=title_told(take.bars.title), bars=bars)


def _caption(take: PencilledTake, *, whole: bool) -> str:
    """Which take it was, so that it can be found again and heard, and how it went."""
    terms, summary = take.terms, summary_of(take.judgement, take.expected, free_on=take.free_on)
    how = message(f"{terms.stage.value}.name")
    if take.free_on is not None:
        how = message("report.page.any_place", how=how)
    if terms.tempo_bpm:
        how = message("report.page.at_tempo", how=how, tempo=terms.tempo_bpm)
    if summary.asked and summary.in_time is None:
        how = message("report.page.so_right", how=how, right=summary.right_notes, asked=summary.asked)
    elif summary.asked:
        counts = {"right": summary.right_notes, "asked": summary.asked, "in_time": summary.in_time}
        how = message("report.page.so_right_in_time", how=how, **counts)
    which = say("report.page.caption", number=take.number, day=take.day, where=_where(take), how=how)
    if summary.counts[Verdict.UNSURE]:
        which = f"{which} {say('unsure.do_not_count', count=summary.counts[Verdict.UNSURE])}"
    return which if whole else f"{which} {say('report.page.cut')}"


def _said(take: PencilledTake, names: NoteNames) -> str:
    """The marks in words, for those who cannot see them."""
    verdicts = {verdict.n: verdict for verdict in take.judgement.verdicts}
    events = [event for event in take.judgement.events if event.kind in OF_PACE]
    left = {event.n: message(f"event.{event.kind.name.lower()}") for event in events}
    said = [
        message(
            "report.page.mark", bar=one.note.bar, note=figure_words.note_said(one.note.pitch.name, names), what=told
        )
        for one in take.expected
        for told in (_told(verdicts[one.n], take, names), left.get(one.n))
        if told
    ]
    if not said:
        return say("report.page.no_marks")
    left_out = len(said) - _MOST_SAID
    if left_out > 0:
        said = [*said[:_MOST_SAID], message("report.page.more_marks", number=left_out)]
    return say("report.page.marks", marks=tuple(said))


def _told(verdict: NoteVerdict, take: PencilledTake, names: NoteNames) -> Message | None:
    first = verdict.first
    match verdict.verdict:
        case Verdict.WRONG_PITCH:
            return _wrong_pitch(verdict, take, names)
        case Verdict.OTHER_PLACE if first and first.place:
            return message("report.page.other_place", string=first.place.string, fret=first.place.fret)
        case Verdict.MISSED | Verdict.EARLY | Verdict.LATE | Verdict.OTHER_PLACE | Verdict.UNSURE:
            return message(f"verdict.{verdict.verdict.name.lower()}")
    if verdict.n not in take.slow:
        return None
    helped = verdict.verdict is Verdict.HINTED
    return message("report.page.found_with_help" if helped else "report.page.found", seconds=take.slow[verdict.n])


def _wrong_pitch(verdict: NoteVerdict, take: PencilledTake, names: NoteNames) -> Message:
    sounding = verdict.first.sounding if verdict.first else None
    played = figure_words.played_said(sounding, take.passage.reading.octaves_down, names)
    if verdict.cause is None:
        return message("report.page.was_played", played=played)
    return message("report.page.was_played_because", played=played, cause=figure_words.cause_said(verdict.cause.value))
