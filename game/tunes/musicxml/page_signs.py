"""How a page is divided, read from the bars of a MusicXML part: bar lines other than plain ones, and section words.

A bar line at the left of a bar is the one at the end of the bar before. A rehearsal mark or a section's name belongs to
the bar whose start it stands nearest to: over a pickup to the chorus stands the word of the bar that it leads to.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from game.music.score import BarLine, BarMarks
from game.text.clean_text import cleaned
from game.tunes.musicxml.order_words import is_instruction
from game.tunes.section_words import LONGEST_SECTION, section_in

# Of two strokes, whichever of them is the heavy one, stands for a double bar line; a final one only in its own order.
_LINES = {
    "light-light": BarLine.DOUBLE,
    "heavy-light": BarLine.DOUBLE,
    "heavy-heavy": BarLine.DOUBLE,
    "light-heavy": BarLine.FINAL,
    "heavy": BarLine.HEAVY,
    "dashed": BarLine.DASHED,
    "dotted": BarLine.DOTTED,
}
_BOXES = frozenset({"rectangle", "square", "oval", "circle", "bracket", "inverted-bracket", "diamond"})
_WHOLE_NUMBER = re.compile(r"-?\d{1,9}", re.ASCII)


def with_page_signs(marks: Sequence[BarMarks], measures: Sequence[Element]) -> list[BarMarks]:
    """The marks with the bar lines and the section words of these bars; repeat signs are in them already."""
    signed = list(marks)
    for bar, line in _bar_lines(measures):
        if not marks[bar].repeat_end:
            signed[bar] = replace(signed[bar], bar_line=line)
    for bar, word in _sections(measures):
        both = f"{signed[bar].section} {word}" if signed[bar].section not in ("", word) else word
        signed[bar] = replace(signed[bar], section=both[:LONGEST_SECTION])
    return signed


def section_of(direction: Element) -> str:
    """The section that a direction names: as a rehearsal mark whatever it says, in words where they are a section's
    name, or a letter in a box. "" for everything else.
    """
    marks = [cleaned(mark.text, LONGEST_SECTION) for mark in direction.iterfind("direction-type/rehearsal")]
    if any(marks):
        return " ".join(mark for mark in marks if mark)
    pieces = direction.findall("direction-type/words")
    boxed = any(piece.get("enclosure") in _BOXES for piece in pieces)
    said = " ".join(cleaned(piece.text, 2 * LONGEST_SECTION) for piece in pieces)
    return section_in(said, letters_too=boxed)


def _bar_lines(measures: Sequence[Element]) -> Iterator[tuple[int, BarLine]]:
    for bar, measure in enumerate(measures):
        for barline in measure.iterfind("barline"):
            line = _LINES.get(cleaned(barline.findtext("bar-style"), 20))
            side = barline.get("location", "right")
            at = bar - (side == "left")
            if line and at >= 0 and side != "middle" and barline.find("repeat") is None:
                yield at, line


def _sections(measures: Sequence[Element]) -> Iterator[tuple[int, str]]:
    for bar, measure in enumerate(measures):
        for place, direction in _placed(measure):
            word = section_of(direction)
            if word and not is_instruction(word):
                yield (bar + 1 if 2 * place >= 1 and bar + 1 < len(measures) else bar), word


def _placed(measure: Element) -> Iterator[tuple[float, Element]]:
    """The directions of a bar, each with its place in it: 0 at the start, 1 at the end."""
    now = end = 0
    found = []
    for element in measure:
        if element.tag == "direction":
            found.append((now + _whole(element, "offset"), element))
        elif element.tag in {"note", "backup", "forward"}:
            in_chord = element.find("chord") is not None or element.find("grace") is not None
            moved = 0 if in_chord else _whole(element, "duration")
            now = max(now - moved if element.tag == "backup" else now + moved, 0)
            end = max(end, now)
    yield from ((place / end if end else 0.0, direction) for place, direction in found)


def _whole(element: Element, tag: str) -> int:
    """A whole number of divisions; 0 for what is none."""
    said = cleaned(element.findtext(tag), 20)
    return int(said) if _WHOLE_NUMBER.fullmatch(said) else 0
