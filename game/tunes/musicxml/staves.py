"""Which staff of a MusicXML part is read, and what stands on it.

Notes without `staff` stand on the first. `number` of a key, metre, clef or transposition is that of the staff it holds
for, in a part of several staves; without one it holds for all of them (MusicXML 4.0).
"""

from xml.etree.ElementTree import Element


def staff_read(part: Element) -> str | None:
    """The number of the first staff that has notes with a pitch; None in a part of one staff."""
    declared = [(staves.text or "").strip() for staves in part.iterfind("measure/attributes/staves")]
    if all(number in {"", "1"} for number in declared):
        return None
    with_notes = {_staff_of(note) for note in part.iterfind("measure/note") if note.find("pitch") is not None}
    return min(with_notes, key=lambda number: (len(number), number), default="1")


def on_other_staff(note: Element, staff: str | None) -> bool:
    """Whether a note stands on another staff than the one that is read."""
    return staff is not None and _staff_of(note) != staff


def holds_for_staff(sign: Element, staff: str | None) -> bool:
    """Whether a key, metre, clef or transposition holds for the staff that is read."""
    return staff is None or sign.get("number", staff) == staff


def _staff_of(note: Element) -> str:
    return (note.findtext("staff") or "1").strip()
