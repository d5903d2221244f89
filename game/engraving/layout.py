"""Bars laid out by verovio: on one endless line to be scrolled, or on lines of a page that stands still."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate, pairwise

from game.engraving.above_staff import NO_NUMERALS, fill_above
from game.engraving.chord_room import with_room_for_chords
from game.engraving.engraver import EngravedFace, endless_svg, page_svg
from game.engraving.last_line import filled
from game.engraving.line_breaks import bar_widths, system_starts
from game.engraving.notation import musicxml
from game.engraving.shapes import Engraving, Opening, System
from game.engraving.svg_reader import SvgReader
from game.engraving.text_extents import TextMeasure, estimated
from game.music.score import NO_MARKS, Bar, Note, NoteValue, Reading, Rest
from game.music.written import HeadId

# About what verovio leaves between the signature and the middle of the first head, in staff spaces.
_FIRST_NOTE_GAP = 2.0
# A page of one line is spread over the width where it fills so much of it: two or three bars would be torn apart.
_LONE_LINE_SPREAD = 0.65
# A passage is laid out in a few sizes before each take and after it, and again for the next one.
_PAGES_KEPT = 24


def lay_out_line(
    bars: Sequence[Bar],
    reading: Reading,
    face: EngravedFace = EngravedFace.ENGRAVED,
    *,
    final_barline: bool = True,
    measure: TextMeasure = estimated,
    numerals: Mapping[HeadId, str] = NO_NUMERALS,
) -> Engraving:
    """The bars on one endless line, with or without a final bar line; `measure` tells the room of texts, `numerals` are
    positions of the hand by the noteheads at which they begin.

    Raises `ValueError` when there are no bars.
    """
    roomy = with_room_for_chords(bars, measure)
    reader = _read_line(roomy, reading, face, final_barline=final_barline)
    fill_above(reader, bars, measure, numerals)
    system = reader.systems[0]
    return Engraving(
        systems=(system,),
        positions=tuple(_positions(system, bars)),
        openings=tuple(_openings(system, bars, reading, face)),
    )


def lay_out_page(
    bars: Sequence[Bar],
    reading: Reading,
    width_spaces: float,
    face: EngravedFace = EngravedFace.ENGRAVED,
    *,
    final_barline: bool = True,
    measure: TextMeasure = estimated,
    numerals: Mapping[HeadId, str] = NO_NUMERALS,
) -> Engraving:
    """The bars on lines `width_spaces` staff spaces wide, about four bars on each, fewer where they are
    dense; `final_barline` draws the final bar line, `measure` and `numerals` as in `lay_out_line`. The pages laid
    out last are kept and given out again: do not change what this gives.

    Raises `ValueError` when there are no bars.
    """
    told = tuple(numerals.items())
    return _page(tuple(bars), reading, width_spaces, face, final_barline, measure, told)


@lru_cache(maxsize=_PAGES_KEPT)
def _page(
    bars: tuple[Bar, ...],
    reading: Reading,
    width_spaces: float,
    face: EngravedFace,
    final_barline: bool,
    measure: TextMeasure,
    numerals: tuple[tuple[HeadId, str], ...],
) -> Engraving:
    roomy = with_room_for_chords(bars, measure)
    line = _read_line(roomy, reading, face, moving=False).systems[0]
    starts = system_starts(line, bars, width_spaces)
    page = filled(roomy, bar_widths(line), starts, final_barline=final_barline)
    notation = musicxml(page, reading, system_starts=starts, final_barline=final_barline)
    svg = page_svg(notation, face, width_spaces, least_spread=0.0 if starts else _LONE_LINE_SPREAD)
    reader = SvgReader(svg, face.value, len(bars), reading.clef)
    fill_above(reader, bars, measure, dict(numerals))
    return Engraving(systems=tuple(reader.systems))


def _read_line(
    bars: Sequence[Bar], reading: Reading, face: EngravedFace, *, moving: bool = True, final_barline: bool = True
) -> SvgReader:
    notation = musicxml(bars, reading, final_barline=final_barline)
    return SvgReader(endless_svg(notation, face, moving=moving), face.value, len(bars), reading.clef)


def _positions(system: System, bars: Sequence[Bar]) -> Iterator[tuple[float, float]]:
    """Onsets with the centres of their noteheads, rising in both; last the final bar line.

    Music that begins with a rest begins beside the signature.
    """
    starts = list(accumulate((bar.length for bar in bars), initial=Fraction(0)))
    last = (-1.0, -1.0)
    if not all(isinstance(event, Note) for event in bars[0].events[:1]):
        last = (0.0, max(shape.box.right for shape in system.opening) + _FIRST_NOTE_GAP)
        yield last
    for index, bar in enumerate(bars):
        for position, event in enumerate(bar.events):
            if not isinstance(event, Note) or event.grace:
                continue
            box = system.head_boxes[HeadId(index, position)]
            here = (float(starts[index] + event.onset), (box.left + box.right) / 2)
            if here[0] > last[0] and here[1] > last[1]:
                yield here
                last = here
    if system.bar_ends:
        yield (float(starts[-1]), system.bar_ends[-1])


def _openings(line: System, bars: Sequence[Bar], reading: Reading, face: EngravedFace) -> Iterator[Opening]:
    """The signature the line begins with, and one for each later change, engraved by itself."""
    yield _opening(line, line.left)
    for index, (before, bar) in enumerate(pairwise(bars), start=1):
        if (before.key.fifths, before.meter) != (bar.key.fifths, bar.meter):
            alone = _read_line((_empty(bar),), reading, face).systems[0]
            yield _opening(alone, line.bar_ends[index - 1])


def _opening(system: System, from_x: float) -> Opening:
    right = max(shape.box.right for shape in system.opening)
    return Opening(from_x, system.left, system.top_line, right - system.left, tuple(system.opening))


def _empty(bar: Bar) -> Bar:
    """A bar of rest under the same signature."""
    length = bar.meter.bar_length
    rest = Rest(onset=Fraction(0), length=length, value=NoteValue(base=Fraction(4)), whole_bar=True)
    return replace(bar, length=length, events=(rest,), chords=(), marks=NO_MARKS, pickup=False)
