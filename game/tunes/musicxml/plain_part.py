"""One part of a checked score cut down to what the note reader is to see, with an account of what was left
out.

Cue notes, slash heads and unpitched notes become rests of the same length, so that the bars keep their time.
Signs that steer the order of play and chord symbols are read elsewhere (`game.tunes.musicxml.order_signs`,
`game.tunes.musicxml.harmony`): music21 loses endings and renames chords.
"""

from fractions import Fraction
from xml.etree.ElementTree import Element, tostring

from game.message import Message
from game.tunes.left_out import LeftOut, bars_listed

_SEEN_BY_READER = frozenset({"attributes", "note", "backup", "forward"})
# What is kept of an element, and of the elements in it.
_CHILDREN_SEEN = {
    "divisions": frozenset[str](),
    "key": frozenset({"fifths", "mode"}),
    "time": frozenset({"beats", "beat-type"}),
    "staves": frozenset[str](),
    "grace": frozenset[str](),
    "chord": frozenset[str](),
    "duration": frozenset[str](),
    "voice": frozenset[str](),
    "type": frozenset[str](),
    "dot": frozenset[str](),
    "staff": frozenset[str](),
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
    for index, measure in enumerate(part.findall("measure"), start=1):
        plain.append(_plain_measure(measure, str(index), left_out))
    return tostring(score, encoding="utf-8"), left_out.warnings(bars_listed)


def _plain_measure(measure: Element, number: str, left_out: LeftOut) -> Element:
    printed = measure.get("number") or number
    plain = measure.makeelement("measure", {"number": number})
    dropped_chord = False
    for element in measure:
        if element.tag not in _SEEN_BY_READER:
            continue
        if element.tag == "attributes":
            plain.append(_plain_attributes(element, printed, left_out))
        elif element.tag == "note":
            in_chord = element.find("chord") is not None
            if in_chord and dropped_chord:
                continue
            reason = _reason_left_out(element)
            if reason:
                left_out.add(reason, printed)
            # A grace note takes no time: nothing need stand in its place.
            dropped_chord = bool(reason) and not in_chord
            if reason and (in_chord or element.find("grace") is not None):
                continue
            plain.append(_plain_note(element, printed, left_out, as_rest=bool(reason)))
        else:
            plain.append(element)
    return plain


def _reason_left_out(note: Element) -> str:
    if note.find("cue") is not None:
        return "tune.cue_notes"
    if note.find("unpitched") is not None:
        return "tune.unpitched_notes"
    if (note.findtext("notehead") or "").strip() == "slash":
        return "tune.slashes"
    return ""


def _plain_attributes(attributes: Element, bar: str, left_out: LeftOut) -> Element:
    for style in attributes.findall("measure-style"):
        if style.find("measure-repeat") is not None or style.find("beat-repeat") is not None:
            left_out.add("tune.bar_repeats", bar)
    plain = attributes.makeelement("attributes", {})
    for child in attributes:
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
