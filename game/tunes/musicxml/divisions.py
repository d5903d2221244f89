"""How many divisions a quarter note has, where a MusicXML part says so too late or not at all.

MusicXML 4.0 knows no default. The note values say it: a `quarter` of duration 480 makes 480 divisions.
"""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from xml.etree.ElementTree import Element

from game.errors import TuneError
from game.music.note_values import BASES

# `note-type-value` of MusicXML 4.0, as far as we print it.
_BASES = dict(zip(("breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th"), BASES, strict=True))
_LONGEST_NUMBER = 9


def say_divisions(part: Element, file_name: str) -> None:
    """Put the divisions into the first bar of `part` when notes stand before any are said there.

    Raises `TuneError` when no note before them says its value either.
    """
    unsaid = list(_notes_before_any(part))
    if not unsaid:
        return
    found = Counter(divisions for note in unsaid if (divisions := _divisions_by(note)))
    if not found:
        raise TuneError("musicxml.divisions_unsaid", file=file_name)
    (divisions, _), *_ = found.most_common(1)
    attributes, element = part.makeelement("attributes", {}), part.makeelement("divisions", {})
    # As a decimal: an eighth may be shorter than a division.
    element.text = str(divisions) if divisions.denominator == 1 else f"{float(divisions):.6f}"
    attributes.append(element)
    part[_first_measure(part)].insert(0, attributes)


def _first_measure(part: Element) -> int:
    return next(index for index, child in enumerate(part) if child.tag == "measure")


def _notes_before_any(part: Element) -> Iterator[Element]:
    """The notes that take time before the first `divisions`."""
    for measure in part.findall("measure"):
        for element in measure:
            if element.tag == "attributes" and element.find("divisions") is not None:
                return
            if element.tag == "note" and element.find("duration") is not None and element.find("grace") is None:
                yield element


def _divisions_by(note: Element) -> Fraction | None:
    """What this note's value and duration come to; None when it does not say its value, or not in plain numbers."""
    base = _BASES.get((note.findtext("type") or "").strip())
    duration = _whole(note.findtext("duration"))
    actual = _whole(note.findtext("time-modification/actual-notes"))
    normal = _whole(note.findtext("time-modification/normal-notes"))
    if base is None or not duration:
        return None
    length = base * (2 - Fraction(1, 2 ** len(note.findall("dot")[:4])))
    if actual and normal:
        length = length * normal / actual
    return duration / length


def _whole(text: str | None) -> Fraction | None:
    words = (text or "").strip()
    return Fraction(int(words)) if words.isascii() and words.isdecimal() and len(words) <= _LONGEST_NUMBER else None
