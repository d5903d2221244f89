"""One part of a checked score cut down to what the note reader is to see, with an account of what was left
out.

Cue notes, slashes and unpitched notes become rests of the same length, so that the bars keep their time; of several
staves one is kept.
Signs that steer the order of play and chord symbols are read elsewhere (`game.tunes.musicxml.order_signs`,
`game.tunes.musicxml.harmony`): music21 loses endings and renames chords.
"""

from collections.abc import Iterator
from fractions import Fraction
from xml.etree.ElementTree import Element, tostring

from game.message import Message, message
from game.tunes.left_out import LeftOut, bars_listed
from game.tunes.musicxml.staves import holds_for_staff, on_other_staff, staff_read

# What is kept of an element, and of the elements in it.
_CHILDREN_SEEN = {
    "divisions": frozenset[str](),
    "key": frozenset({"fifths", "mode"}),
    "time": frozenset({"beats", "beat-type"}),
    "grace": frozenset[str](),
    "chord": frozenset[str](),
    "duration": frozenset[str](),
    "voice": frozenset[str](),
    "type": frozenset[str](),
    "dot": frozenset[str](),
    "time-modification": frozenset({"actual-notes", "normal-notes"}),
}
# MusicXML 4.0 `note-type-value`, as far as music21 takes it.
_NOTE_TYPES = frozenset(
    [
        "maxima",
        "long",
        "breve",
        "whole",
        "half",
        "quarter",
        "eighth",
        "16th",
        "32nd",
        "64th",
        "128th",
        "256th",
        "512th",
        "1024th",
    ]
)
_MODES = frozenset({"major", "minor"})


def plain_part(part: Element) -> tuple[bytes, tuple[Message, ...]]:
    """A MusicXML text with this part alone, and the warnings it earned, one sentence each."""
    left_out = LeftOut()
    score = part.makeelement("score-partwise", {"version": "4.0"})
    part_list = part.makeelement("part-list", {})
    entry = part.makeelement("score-part", {"id": "P1"})
    name = part.makeelement("part-name", {})
    name.text = "melody"
    entry.append(name)
    part_list.append(entry)
    score.append(part_list)
    plain = part.makeelement("part", {"id": "P1"})
    score.append(plain)
    reader = _PlainMeasures(staff_read(part), left_out)
    for index, measure in enumerate(part.findall("measure"), start=1):
        plain.append(reader.plain(measure, str(index)))
    of_staves = (message("tune.several_staves"),) if reader.others_left_out else ()
    return tostring(score, encoding="utf-8"), (*left_out.warnings(bars_listed), *of_staves)


class _PlainMeasures:
    """Walks the measures with the staff that is read, and whether slashes are written for notes."""

    def __init__(self, staff: str | None, left_out: LeftOut) -> None:
        self._staff = staff
        self._left_out = left_out
        self._slashes = False
        self._chord_left_out = self._chord_from_other_staff = False
        self.others_left_out = False

    def plain(self, measure: Element, number: str) -> Element:
        printed = measure.get("number") or number
        plain = measure.makeelement("measure", {"number": number})
        self._chord_left_out = self._chord_from_other_staff = False
        for element in measure:
            if element.tag == "attributes":
                self._take_slashes(element)
                plain.append(_plain_attributes(element, printed, self._left_out, self._staff))
            elif element.tag in {"backup", "forward"}:
                plain.append(element)
            elif element.tag == "note" and on_other_staff(element, self._staff):
                self.others_left_out |= element.find("pitch") is not None
                if element.find("chord") is None:
                    self._chord_left_out, self._chord_from_other_staff = False, True
                    plain.extend(_silent(element))
            elif element.tag == "note":
                self._take_note(element, plain, printed)
        return plain

    def _take_note(self, note: Element, plain: Element, bar: str) -> None:
        """Put a note of the staff that is read into the plain bar, or what stands in its place."""
        in_chord = note.find("chord") is not None
        if in_chord and self._chord_left_out:
            return
        self._chord_from_other_staff &= in_chord
        reason = self._reason_left_out(note)
        if reason:
            self._left_out.add(reason, bar)
        self._chord_left_out = bool(reason) and (self._chord_from_other_staff or not in_chord)
        # A grace note takes no time: nothing need stand in its place.
        if reason and (in_chord or note.find("grace") is not None):
            return
        kept = _plain_note(note, bar, self._left_out, as_rest=bool(reason))
        if self._chord_from_other_staff:
            _begin_chord(plain, kept)
        else:
            plain.append(kept)
        self._chord_from_other_staff = False

    def _take_slashes(self, attributes: Element) -> None:
        for style in attributes.findall("measure-style"):
            slash = style.find("slash")
            if slash is not None and holds_for_staff(style, self._staff):
                self._slashes = slash.get("type") == "start"

    def _reason_left_out(self, note: Element) -> str:
        return "tune.slashes" if self._slashes and note.find("pitch") is not None else _reason_left_out(note)


def _silent(note: Element) -> Iterator[Element]:
    """What stands in the place of a note on another staff: nothing but the time it takes."""
    if note.find("chord") is None and note.find("grace") is None:
        forward = note.makeelement("forward", {})
        forward.extend(note.findall("duration"))
        yield forward


def _begin_chord(plain: Element, note: Element) -> None:
    """Let `note` begin the chord of which the first note stands on another staff, in its place and for its time."""
    for chord in note.findall("chord"):
        note.remove(chord)
    if len(plain) and plain[-1].tag == "forward" and note.find("grace") is None:
        silence = plain[-1]
        for duration, of_first in zip(note.findall("duration"), silence.findall("duration"), strict=False):
            duration.text = of_first.text
        plain.remove(silence)
    plain.append(note)


def _reason_left_out(note: Element) -> str:
    if note.find("cue") is not None:
        return "tune.cue_notes"
    if note.find("unpitched") is not None:
        return "tune.unpitched_notes"
    if (note.findtext("notehead") or "").strip() == "slash":
        return "tune.slashes"
    return ""


def _plain_attributes(attributes: Element, bar: str, left_out: LeftOut, staff: str | None) -> Element:
    for style in attributes.findall("measure-style"):
        if style.find("measure-repeat") is not None or style.find("beat-repeat") is not None:
            left_out.add("tune.bar_repeats", bar)
    plain = attributes.makeelement("attributes", {})
    for child in attributes:
        if child.tag in {"key", "time"} and not holds_for_staff(child, staff):
            continue
        if child.tag == "key" and child.find("fifths") is None:
            left_out.add("tune.odd_key_left_out", bar)
        elif child.tag == "time" and (child.find("beats") is None or child.find("beat-type") is None):
            left_out.add("tune.without_metre", bar)
        elif child.tag in _CHILDREN_SEEN:
            plain.append(_only(child, _CHILDREN_SEEN[child.tag]))
    return plain


def _plain_note(note: Element, bar: str, left_out: LeftOut, *, as_rest: bool) -> Element:
    plain = note.makeelement("note", {})
    for child in note:
        if child.tag == "rest" or (child.tag in {"pitch", "unpitched"} and as_rest):
            whole = child.tag == "rest" and child.get("measure") == "yes"
            plain.append(note.makeelement("rest", {"measure": "yes"} if whole else {}))
        elif child.tag == "pitch":
            plain.append(_plain_pitch(child, bar, left_out))
        elif child.tag == "tie" and not as_rest:
            plain.append(note.makeelement("tie", {"type": "stop" if child.get("type") == "stop" else "start"}))
        elif child.tag in _CHILDREN_SEEN:
            plain.append(_only(child, _CHILDREN_SEEN[child.tag]))
    ends = [end for end in note.findall("notations/tuplet") if end.get("type") in {"start", "stop"}]
    if ends and plain.find("time-modification") is not None:
        notations = note.makeelement("notations", {})
        notations.extend(note.makeelement("tuplet", {"type": end.get("type", "")}) for end in ends[:2])
        plain.append(notations)
    return plain


def _only(element: Element, tags: frozenset[str]) -> Element:
    """The element with its text, without attributes, and with those children alone: known to be harmless."""
    plain = element.makeelement(element.tag, {})
    if element.tag == "type" and (element.text or "").strip() not in _NOTE_TYPES:
        # An unknown word for the note value: the duration says enough.
        return element.makeelement("listen", {})
    plain.text = (element.text or "").strip()[:20]
    for child in element:
        if child.tag in tags and not (child.tag == "mode" and (child.text or "").strip() not in _MODES):
            kept = element.makeelement(child.tag, {})
            kept.text = (child.text or "").strip()[:20]
            plain.append(kept)
    return plain


def _plain_pitch(pitch: Element, bar: str, left_out: LeftOut) -> Element:
    alter = Fraction((pitch.findtext("alter") or "0").strip())
    if alter.denominator == 1:
        return pitch
    left_out.add("tune.quarter_tones", bar)
    plain = pitch.makeelement("pitch", {})
    for child in pitch:
        whole = pitch.makeelement(child.tag, {})
        whole.text = str(round(alter)) if child.tag == "alter" else child.text
        plain.append(whole)
    return plain
