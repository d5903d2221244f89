"""Outside check: the accidentals that the `music21` library 10.5 (BSD) prints over a whole page by its own
`makeAccidentals`, with everything it does unless told otherwise, and where we do otherwise on purpose.

A courtesy is named by looking at the page afresh, not by asking either program why.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from game.music.accidentals import ShownAccidental, shown_accidentals
from game.music.pitch import Pitch
from game.music.score import Bar, Event, Note, Rest

if TYPE_CHECKING:
    from music21.note import Note as ItsNote
    from music21.stream import Part

AGAIN = "music21 prints a sign again in its bar where other notes came between"
OTHER_OCTAVE = "music21 prints a sign where the letter stood in another octave with another sign, in this bar or before"
BAR_BEFORE = "we remind of what the bar before had altered on that line, though music21 already did in another octave"
COURTESIES = (AGAIN, OTHER_OCTAVE, BAR_BEFORE)
_ALTERS = {-2: "--", -1: "-", 0: "", 1: "#", 2: "##"}


@dataclass(frozen=True, slots=True)
class Unlike:
    """A notehead at which only one of the two prints a sign; `courtesy` is "" where that has no name."""

    bar: int
    event: int
    ours: bool
    courtesy: str


def unlike(bars: Sequence[Bar]) -> Iterator[Unlike]:
    """Every notehead of the page at which ours and music21's signs differ."""
    for bar, (shown, theirs) in enumerate(zip(shown_accidentals(bars), signs_by_music21(bars), strict=True)):
        for event, (sign, its) in enumerate(zip(shown, theirs, strict=True)):
            if (sign.sign is not None) != its:
                yield Unlike(bar, event, not its, _courtesy(bars, bar, event, sign))


def signs_by_music21(bars: Sequence[Bar]) -> list[list[bool]]:
    """At which events music21 prints an accidental."""
    from music21 import stream

    part = stream.Part()
    heads = [list(_its_bar(part, bars, index)) for index in range(len(bars))]
    part.makeAccidentals(inPlace=True)
    return [[_has_sign(head) for head in row] for row in heads]


def printed_otherwise(bar: Bar) -> list[Event]:
    """The events whose printed value is not as long as they last, grace notes and centred bar rests apart."""
    return [
        event
        for event in bar.events
        if not (isinstance(event, Note) and event.grace)
        and not (isinstance(event, Rest) and event.whole_bar)
        and event.value.length != event.length
    ]


def _its_bar(part: "Part", bars: Sequence[Bar], index: int) -> Iterator["ItsNote | None"]:
    from music21 import key, note, stream

    measure = stream.Measure()
    if index == 0 or bars[index].key.fifths != bars[index - 1].key.fifths:
        measure.keySignature = key.KeySignature(bars[index].key.fifths)
    part.append(measure)
    for event in bars[index].events:
        its = note.Rest(quarterLength=event.length) if isinstance(event, Rest) else _its_note(event)
        measure.append(its)
        yield its if isinstance(event, Note) else None


def _its_note(event: Note) -> "ItsNote":
    from music21 import note, tie

    pitch = event.pitch
    its = note.Note(f"{pitch.step}{_ALTERS[pitch.alter]}{pitch.octave}", quarterLength=event.value.length)
    if event.tied_from_previous or event.tied_to_next:
        its.tie = tie.Tie("stop" if not event.tied_to_next else "continue" if event.tied_from_previous else "start")
    return its.getGrace() if event.grace else its


def _has_sign(its: "ItsNote | None") -> bool:
    return its is not None and its.pitch.accidental is not None and bool(its.pitch.accidental.displayStatus)


def _courtesy(bars: Sequence[Bar], bar: int, event: int, shown: ShownAccidental) -> str:
    here = _pitches(bars[bar].events[: event + 1])
    pitch, before = here[-1], here[:-1]
    earlier = _pitches(bars[bar - 1].events) if bar else []
    if shown.sign is None:
        if pitch in before:
            return AGAIN
        return OTHER_OCTAVE if any(_altered_elsewhere(pitch, other) for other in [*before, *earlier]) else ""
    reminds = any(other.staff_step == pitch.staff_step and other.alter != pitch.alter for other in earlier)
    told_elsewhere = any(other.step == pitch.step and other.octave != pitch.octave for other in [*before, *earlier])
    return BAR_BEFORE if shown.courtesy and reminds and told_elsewhere else ""


def _altered_elsewhere(pitch: Pitch, other: Pitch) -> bool:
    return other.step == pitch.step and other.octave != pitch.octave and other.alter != pitch.alter


def _pitches(events: Sequence[Event]) -> list[Pitch]:
    return [event.pitch for event in events if isinstance(event, Note)]
