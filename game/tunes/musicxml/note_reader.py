"""The notes of a plain part, read with music21. Runs only in the reading process: never import music21 in
ours.

The answer is a Score without title, marks, chord symbols or octave, and with pitches as the file has them.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any

from music21.musicxml.xmlToM21 import MusicXMLImporter

from game.message import Message
from game.music.keys import Key
from game.music.meter import MAX_BEATS, UNITS, Meter
from game.music.note_values import BASES, MAX_DOTS, bracketed, rests_between, values_of
from game.music.pitch import Pitch
from game.music.score import Bar, Event, Note, NoteValue, Reading, Rest, Score, Tuplet
from game.tunes.left_out import LeftOut, bars_counted

# music21's words for note values.
_TYPES = ("breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th")
_BASE_OF_TYPE = dict(zip(_TYPES, BASES, strict=True))
# Odd lengths come back as tuplets such as 80:53, which nobody prints.
_MAX_TUPLET = 32
# So far, in quarter notes, a file's whole divisions may be from the notes of a tuplet that they do not divide by.
_ROUNDED = Fraction(1, 32)


def read_notes(xml: bytes) -> Score:
    """Read a plain part: one Bar for each `measure`, numbered from 1.

    Of several voices the first that has notes in a bar is read, of a chord the top note; warnings say so, with
    bars counted from 1 as whole numbers: only the parent knows what number is printed.
    """
    importer = MusicXMLImporter()
    importer.xmlText = xml
    importer.parseXMLText()
    part = importer.stream.parts[0]
    reader = _PartReader()
    bars = tuple(reader.bar(measure) for measure in part.getElementsByClass("Measure"))
    return Score(title="", reading=Reading.GUITAR, bars=bars, warnings=reader.warnings())


class _PartReader:
    """Walks the measures with the key and metre in force, counting what it leaves out."""

    def __init__(self) -> None:
        self._key = Key()
        self._meter = Meter()
        self._left_out = LeftOut()
        self._bar_number = 0

    def bar(self, measure: Any) -> Bar:
        self._bar_number += 1
        self._take_signatures(measure)
        voices = list(measure.voices)
        line = self._voice_read(voices) if voices else measure
        events = self._one_line(self._events(line))
        length = self._length(measure, events)
        if length == 0:
            # Some programs leave an empty bar out of the file's notes: it still lasts a bar.
            length = self._meter.bar_length
        if not any(isinstance(event, Note) and not event.grace for event in events):
            events = [event for event in events if isinstance(event, Note)] + [_bar_rest(length)]
        events = list(_filled(events, length))
        short_start = self._bar_number == 1 and length < self._meter.bar_length
        return Bar(
            number=str(self._bar_number),
            meter=self._meter,
            key=self._key,
            length=length,
            events=bracketed(events),
            pickup=short_start,
        )

    def _voice_read(self, voices: Sequence[Any]) -> Any:
        """The first voice that has notes: programs write a bar in the second alone, and rests in the first."""
        with_notes = [voice for voice in voices if any(not element.isRest for element in voice.notesAndRests)]
        if with_notes and with_notes[0] is not voices[0]:
            self._leave_out("tune.other_voice")
        elif with_notes[1:]:
            self._leave_out("tune.several_voices")
        return with_notes[0] if with_notes else voices[0]

    def _length(self, measure: Any, events: Sequence[Event]) -> Fraction:
        """How long the bar is: what its line comes to, and other voices only as far as the metre goes. A bar without
        notes is never longer than the metre, whatever sign of rest stands in it.
        """
        sounding = any(isinstance(event, Note) for event in events)
        line = max((event.onset + event.length for event in events), default=Fraction(0)) if sounding else Fraction(0)
        length = min(_quarters(measure.highestTime), max(line, self._meter.bar_length))
        if abs(length - line) < _ROUNDED:
            length = line
        if length > self._meter.bar_length:
            self._leave_out("tune.bars_too_long")
        return length

    def warnings(self) -> tuple[Message, ...]:
        """A sentence for each kind of thing that was left out."""
        return self._left_out.warnings(bars_counted)

    def _leave_out(self, key: str) -> None:
        self._left_out.add(key, self._bar_number)

    def _take_signatures(self, measure: Any) -> None:
        for sign in measure.getElementsByClass("KeySignature"):
            if sign.sharps is not None:
                self._key = Key(sign.sharps, minor=getattr(sign, "mode", "") == "minor")
        for sign in measure.getElementsByClass("TimeSignature"):
            if sign.numerator <= MAX_BEATS and sign.denominator in UNITS:
                self._meter = Meter(sign.numerator, sign.denominator)
            else:
                self._leave_out("tune.metre_left_out_in")

    def _events(self, line: Any) -> Iterator[Event]:
        reached: Fraction | None = None
        for element in line.notesAndRests:
            onset = _quarters(element.offset)
            if reached is not None and abs(onset - reached) < _ROUNDED:
                onset = reached
            in_file = _quarters(element.quarterLength)
            length = _unrounded(element.duration, in_file)
            if reached is not None or length != in_file:
                reached = onset + length
            if element.isRest:
                if length:
                    yield from _rests(element, onset, length)
                continue
            if element.isChord:
                self._leave_out("tune.top_note_of_chords")
                element = max(element.notes, key=lambda note: note.pitch.ps)  # noqa: PLW2901 - the chord is done with
            if element.duration.isGrace:
                yield _grace(element, onset)
            elif length:
                yield from _notes(element, onset, length)
            else:
                self._leave_out("tune.notes_without_length")

    def _one_line(self, events: Iterator[Event]) -> list[Event]:
        """Without what sounds on top of another note: rests yield to notes, later notes to earlier ones."""
        line: list[Event] = []
        for event in events:
            before = next((other for other in reversed(line) if other.length), None)
            grace = isinstance(event, Note) and event.grace
            if grace or before is None or before.onset + before.length <= event.onset:
                line.append(event)
            elif isinstance(before, Rest) and isinstance(event, Note):
                line[line.index(before)] = event
            elif isinstance(event, Note):
                self._take_higher(line, before, event)
        return line

    def _take_higher(self, line: list[Event], before: Event, event: Note) -> None:
        self._leave_out("tune.notes_overlap")
        same_start = isinstance(before, Note) and before.onset == event.onset and before.length == event.length
        if same_start and isinstance(before, Note) and before.pitch.midi < event.pitch.midi:
            line[line.index(before)] = event


def _notes(element: Any, onset: Fraction, length: Fraction) -> Iterator[Note]:
    """The noteheads of one music21 note: several, tied, when no single value is as long."""
    tie = element.tie.type if element.tie else ""
    pitch = _pitch(element.pitch)
    values = _printed(element.duration, length)
    for index, value in enumerate(values):
        last = index == len(values) - 1
        taken = value.length if len(values) > 1 else length
        yield Note(
            onset=onset,
            length=taken,
            value=value,
            pitch=pitch,
            tied_to_next=not last or tie in {"start", "continue"},
            tied_from_previous=index > 0 or tie in {"stop", "continue"},
        )
        onset += taken


def _grace(element: Any, onset: Fraction) -> Note:
    value = NoteValue(base=_BASE_OF_TYPE.get(element.duration.type, Fraction(1, 2)))
    return Note(onset=onset, length=Fraction(0), value=value, pitch=_pitch(element.pitch), grace=True)


def _rests(element: Any, onset: Fraction, length: Fraction) -> Iterator[Rest]:
    if getattr(element, "fullMeasure", False) is True:
        yield _bar_rest(length, onset)
        return
    values = _printed(element.duration, length)
    for value in values:
        taken = value.length if len(values) > 1 else length
        yield Rest(onset=onset, length=taken, value=value)
        onset += taken


def _bar_rest(length: Fraction, onset: Fraction = Fraction(0)) -> Rest:
    return Rest(onset=onset, length=length, value=NoteValue(base=Fraction(4)), whole_bar=True)


def _filled(events: list[Event], length: Fraction) -> Iterator[Event]:
    """The events with rests in the gaps between them and up to `length`."""
    now = Fraction(0)
    for event in events:
        yield from rests_between(now, event.onset)
        yield event
        now = max(now, event.onset + event.length)
    yield from rests_between(now, length)


def _printed(duration: Any, length: Fraction) -> tuple[NoteValue, ...]:
    """The value the file prints where it comes to the length, else values that do."""
    base = _BASE_OF_TYPE.get(duration.type)
    tuplet = _tuplet(duration.tuplets)
    if base and duration.dots <= MAX_DOTS and (tuplet is None or tuplet.actual <= _MAX_TUPLET):
        value = NoteValue(base=base, dots=duration.dots, tuplet=tuplet)
        if value.length == length:
            return (value,)
    return values_of(length)


def _unrounded(duration: Any, length: Fraction) -> Fraction:
    """What the printed note of a tuplet lasts, where its length in the file comes close: 85, 85 and 86 of 256 divisions
    are a triplet. Else the length in the file.
    """
    base = _BASE_OF_TYPE.get(duration.type)
    tuplet = _tuplet(duration.tuplets)
    if not base or tuplet is None or duration.dots > MAX_DOTS or tuplet.actual > _MAX_TUPLET:
        return length
    printed = NoteValue(base=base, dots=duration.dots, tuplet=tuplet).length
    return printed if abs(printed - length) < min(_ROUNDED, printed / 8) else length


def _tuplet(tuplets: Any) -> Tuplet | None:
    """Tuplets inside tuplets are written as one ratio."""
    if not tuplets:
        return None
    actual = normal = 1
    for tuplet in tuplets:
        actual *= tuplet.numberNotesActual
        normal *= tuplet.numberNotesNormal
    ends = {tuplet.type for tuplet in tuplets}
    return Tuplet(
        actual=actual,
        normal=normal,
        starts=bool(ends & {"start", "startStop"}),
        stops=bool(ends & {"stop", "startStop"}),
    )


@lru_cache(maxsize=1024)
def _spelled(step: str, alter: int, octave: int) -> Pitch:
    return Pitch(step, alter, octave)


def _pitch(pitch: Any) -> Pitch:
    return _spelled(pitch.step, round(pitch.alter), pitch.octave)


def _quarters(number: Any) -> Fraction:
    """music21 counts in floats where they are exact and in fractions where they are not."""
    return Fraction(number)
