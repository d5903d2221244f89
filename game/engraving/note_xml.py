"""Noteheads and rests as MusicXML 4.0 `note`, children in the order the schema asks for."""

from collections.abc import Sequence
from fractions import Fraction

from game.engraving.beams import Beams
from game.engraving.ids import note_id, rest_id
from game.music.accidentals import ShownAccidental
from game.music.score import Bar, Event, Note, NoteValue, Reading, Rest
from game.music.written import HeadId

_TYPES = {
    Fraction(8): "breve",
    Fraction(4): "whole",
    Fraction(2): "half",
    Fraction(1): "quarter",
    Fraction(1, 2): "eighth",
    Fraction(1, 4): "16th",
    Fraction(1, 8): "32nd",
    Fraction(1, 16): "64th",
    Fraction(1, 32): "128th",
}
_ACCIDENTALS = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}


def event_xml(
    bar: Bar,
    place: HeadId,
    accidental: ShownAccidental,
    beams: Sequence[Beams],
    divisions: int,
    reading: Reading,
) -> str:
    """The event at `place`, which names bar and event; `beams` are those of the whole bar.

    A gap before it is skipped by `forward`.
    """
    event = bar.events[place.event]
    gap = _gap_before(bar, place.event)
    forward = f"<forward><duration>{_ticks(gap, divisions)}</duration></forward>" if gap > 0 else ""
    starts_tuplet = event.value.tuplet is not None and event.value.tuplet.starts
    bracket = starts_tuplet and not _under_one_beam(bar, place.event, beams)
    if isinstance(event, Note):
        name = note_id(place)
        what = _note(event, accidental, beams[place.event], divisions, reading)
    else:
        name = rest_id(place)
        what = _rest(event, divisions)
    return f'{forward}<note id="{name}">{what}{_notations(event, bracket=bracket)}</note>'


def _rest(rest: Rest, divisions: int) -> str:
    whole = ' measure="yes"' if rest.whole_bar else ""
    value = "" if rest.whole_bar else _value(rest.value)
    return f"<rest{whole}/><duration>{_ticks(rest.length, divisions)}</duration><voice>1</voice>{value}"


def _note(note: Note, accidental: ShownAccidental, beams: Beams, divisions: int, reading: Reading) -> str:
    octave = note.pitch.octave - reading.octaves_down
    alter = f"<alter>{note.pitch.alter}</alter>" if note.pitch.alter else ""
    duration = "" if note.grace else f"<duration>{_ticks(note.length, divisions)}</duration>"
    return "".join(
        (
            '<grace slash="yes"/>' if note.grace else "",
            f"<pitch><step>{note.pitch.step}</step>{alter}<octave>{octave}</octave></pitch>",
            duration,
            '<tie type="stop"/>' if note.tied_from_previous else "",
            '<tie type="start"/>' if note.tied_to_next else "",
            "<voice>1</voice>",
            _value(note.value, _accidental(accidental)),
            *(f'<beam number="{level}">{state}</beam>' for level, state in enumerate(beams, start=1)),
        )
    )


def _accidental(shown: ShownAccidental) -> str:
    if shown.sign is None:
        return ""
    # A reminder stands in parentheses, as printed lead sheets have it (trade).
    courtesy = ' cautionary="yes" parentheses="yes"' if shown.courtesy else ""
    return f"<accidental{courtesy}>{_ACCIDENTALS[shown.sign]}</accidental>"


def _value(value: NoteValue, accidental: str = "") -> str:
    ratio = ""
    if value.tuplet:
        ratio = (
            f"<time-modification><actual-notes>{value.tuplet.actual}</actual-notes>"
            f"<normal-notes>{value.tuplet.normal}</normal-notes></time-modification>"
        )
    return f"<type>{_TYPES[value.base]}</type>{'<dot/>' * value.dots}{accidental}{ratio}"


def _notations(event: Event, *, bracket: bool) -> str:
    signs = ""
    if isinstance(event, Note):
        signs += '<tied type="stop"/>' if event.tied_from_previous else ""
        signs += '<tied type="start"/>' if event.tied_to_next else ""
    tuplet = event.value.tuplet
    if tuplet and tuplet.stops:
        signs += '<tuplet type="stop"/>'
    if tuplet and tuplet.starts:
        signs += f'<tuplet type="start" bracket="{"yes" if bracket else "no"}"/>'
    return f"<notations>{signs}</notations>" if signs else ""


def _ticks(quarters: Fraction, divisions: int) -> int:
    return quarters.numerator * divisions // quarters.denominator


def _gap_before(bar: Bar, position: int) -> Fraction:
    before = bar.events[position - 1] if position else None
    return bar.events[position].onset - (before.onset + before.length if before else 0)


def _under_one_beam(bar: Bar, position: int, beams: Sequence[Beams]) -> bool:
    """Whether the tuplet that starts at `position` is held together by a beam and needs no bracket."""
    states = []
    for event, beam in zip(bar.events[position:], beams[position:], strict=True):
        states.append(beam[:1])
        if event.value.tuplet is None or event.value.tuplet.stops:
            break
    return states[0] == ("begin",) and states[-1] == ("end",) and all(states) and ("end",) not in states[:-1]
