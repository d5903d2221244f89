"""Outside check: the order of play that the `music21` library (BSD) makes of the signs of a part by its own
`expandRepeats`, and where it is known to err.
"""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element, tostring

from game.music.score import NO_MARKS, BarMarks
from game.tunes.musicxml.order_words import with_instruction
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts

if TYPE_CHECKING:
    from music21.stream import Measure

_STEPS = "CDEFGAB"
_JUMP = re.compile(r"(d\.? ?[cs]\.?|da capo|d[ae]l segno)( al (fine|coda))?", re.IGNORECASE)
FAULTS = (
    "it plays both endings each time where the page has a jump",
    "it does not take words for a jump that say more than that",
    "it plays no section more than twice",
    "it goes back behind an earlier repeat sign",
    "it plays on behind a first ending whose second has no bracket",
    "it goes back over a double bar line or a section's name, as a key chooses",
)
"""What music21 does otherwise than common practice, each found by looking at pages where the orders differ."""

_DIGITS = 49
"""A bar is known by two half notes of 49 pitches: its number in that base."""


def expanded(part: Element) -> tuple[int, ...] | None:
    """The bars from 0 in the order in which music21 has them, None where it raises."""
    from music21 import converter
    from music21.exceptions21 import Music21Exception

    try:
        score = converter.parseData(_signs_alone(part), format="musicxml").parts[0].expandRepeats()
    except (Music21Exception, AttributeError, IndexError, TypeError, ValueError):
        return None
    return tuple(_number(bar) for bar in score.getElementsByClass("Measure"))


def why_unlike(part: Element, marks: Sequence[BarMarks]) -> str:
    """Why music21's order is another than ours, as far as it is known; empty where it is not."""
    jumps = any(mark.jump for mark in marks)
    if jumps and any(mark.endings for mark in marks):
        return FAULTS[0]
    if jumps and not all(_JUMP.fullmatch(words) for words in _words(part) if with_instruction(NO_MARKS, words).jump):
        return FAULTS[1]
    if any(mark.repeat_end > 2 for mark in marks):
        return FAULTS[2]
    if _goes_behind_earlier_sign(marks):
        return FAULTS[3]
    return FAULTS[4] if _first_ending_alone(marks) else ""


def _first_ending_alone(marks: Sequence[BarMarks]) -> bool:
    return any(
        mark.endings and mark.repeat_end and not marks[bar + 1].endings
        for bar, mark in enumerate(marks[:-1])
        if 1 in mark.endings
    )


def _goes_behind_earlier_sign(marks: Sequence[BarMarks]) -> bool:
    """Whether a repeat sign comes after another with no opening sign between them."""
    closed = False
    for mark in marks:
        if mark.repeat_start:
            closed = False
        if mark.repeat_end and closed:
            return True
        closed = closed or mark.repeat_end > 0
    return False


def _words(part: Element) -> list[str]:
    return [(words.text or "").strip() for words in part.iterfind("measure/direction/direction-type/words")]


def _signs_alone(part: Element) -> bytes:
    """A score of whole bars that bears the signs of `part` and nothing else: what opens a bar before its notes."""
    bars = []
    for index, bar in enumerate(part.findall("measure")):
        signs = [sign for sign in bar if sign.tag in {"barline", "direction", "sound"}]
        before = [sign for sign in signs if sign.get("location") == "left" or _opens(sign)]
        behind = [sign for sign in signs if sign not in before]
        behind.sort(key=lambda sign: sign.tag == "barline")
        notes = "".join(_half_note(digit) for digit in divmod(index, _DIGITS))
        content = _texts(before) + (ATTRIBUTES if index == 0 else "") + notes + _texts(behind)
        bars.append(measure(content, str(index + 1)))
    return parts(("Melody", "".join(bars)))


def _opens(sign: Element) -> bool:
    return sign.find("direction-type/segno") is not None or (
        sign.find("direction-type/coda") is not None and sign.find("direction-type/words") is None
    )


def _texts(signs: Sequence[Element]) -> str:
    return "".join(tostring(sign, encoding="unicode") for sign in signs)


def _half_note(digit: int) -> str:
    octave, step = divmod(digit, 7)
    return note(f"{_STEPS[step]}{octave + 1}", 8)


def _number(bar: "Measure") -> int:
    first, second = (_STEPS.index(one.pitch.step) + 7 * (one.pitch.octave - 1) for one in bar.notes)
    return int(first * _DIGITS + second)
