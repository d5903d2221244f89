"""Where in its bar each element of a checked MusicXML part stands: the writing position, moved by notes,
`backup` and `forward` (MusicXML 4.0).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from xml.etree.ElementTree import Element


@dataclass(frozen=True, slots=True, kw_only=True)
class BarTimes:
    """One bar: each element with its onset in quarter notes and the divisions in force, and how far the bar
    reaches.
    """

    elements: tuple[tuple[Fraction, Fraction, Element], ...]
    end: Fraction


def bar_times(part: Element) -> Iterator[BarTimes]:
    """The bars of a checked part, in order."""
    divisions = Fraction(1)
    for measure in part.findall("measure"):
        now = end = Fraction(0)
        elements = []
        for element in measure:
            if element.tag == "attributes" and element.find("divisions") is not None:
                divisions = Fraction((element.findtext("divisions") or "").strip())
            elements.append((now, divisions, element))
            now = max(now + advance_of(element) / divisions, Fraction(0))
            end = max(end, now)
        yield BarTimes(elements=tuple(elements), end=end)


def advance_of(element: Element) -> Fraction:
    """How far the writing position moves, in divisions."""
    if element.tag not in {"note", "backup", "forward"}:
        return Fraction(0)
    if element.find("chord") is not None or element.find("grace") is not None:
        return Fraction(0)
    duration = Fraction((element.findtext("duration") or "0").strip())
    return -duration if element.tag == "backup" else duration
