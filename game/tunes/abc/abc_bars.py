"""The bars of one ABC voice while they are being read: what sounds, the repeat signs around it, and at last our
own bars. The reader (`game.tunes.abc.abc_reader`) walks the text and tells a `BarBuilder` what it finds.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import groupby

from game.errors import TuneError
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.note_values import bracketed, values_of
from game.music.pitch import Pitch
from game.music.score import Bar, BarLine, BarMarks, Event, Note, NoteValue, Rest, Tuplet
from game.tunes.chord_places import shared_places
from game.tunes.limits import MAX_BAR_QUARTERS, MAX_BARS, MAX_NOTES, MAX_TIMES


@dataclass(slots=True)
class AbcEvent:
    """One note, rest (`pitch` None) or grace note as it was written.

    `printed` is its length in quarter notes before its tuplet takes its share.
    """

    printed: Fraction
    pitch: Pitch | None
    tuplet: Tuplet | None = None
    grace: bool = False
    tied_to_next: bool = False
    tied_from_previous: bool = False

    @property
    def length(self) -> Fraction:
        """What it takes up, in quarter notes."""
        if self.grace:
            return Fraction(0)
        return self.printed * self.tuplet.normal / self.tuplet.actual if self.tuplet else self.printed


@dataclass(slots=True)
class OpenBar:
    """A bar being filled. Chord symbols stand before the event with their index."""

    key: Key
    meter: Meter
    events: list[AbcEvent] = field(default_factory=list)
    chords: list[tuple[int, ChordSymbol]] = field(default_factory=list)
    marks: BarMarks = field(default_factory=BarMarks)
    bare_coda: bool = False
    part: str = ""
    at_repeat_sign: bool = False

    @property
    def length(self) -> Fraction:
        """What its events come to."""
        return sum((event.length for event in self.events), Fraction(0))

    @property
    def started(self) -> bool:
        """Whether anything in it takes time."""
        return any(not event.grace for event in self.events)


class BarBuilder:
    """Bars in the order of the text, and the one that is open."""

    def __init__(self, name: str, key: Key, meter: Meter) -> None:
        self._name = name
        self.bars: list[OpenBar] = []
        self.open = OpenBar(key, meter)
        self._ending: tuple[int, ...] = ()
        self._section_start = 0
        self._next_section = ""
        self._notes = 0

    def add(self, event: AbcEvent) -> None:
        """One more note or rest. Raises `TuneError` when it is one too many."""
        self._notes += event.pitch is not None
        if self._notes > MAX_NOTES:
            raise TuneError("abc.too_many_notes", file=self._name, limit=MAX_NOTES)
        self.open.events.append(event)
        if len(self.open.events) > MAX_NOTES:
            raise TuneError("abc.bar_too_full", file=self._name, limit=MAX_NOTES)

    def set_signatures(self, key: Key, meter: Meter) -> None:
        """Key and metre from here on; in a bar that has begun, from the next."""
        if not self.open.started:
            self.open.key, self.open.meter = key, meter

    def close_bar(self, key: Key, meter: Meter) -> bool:
        """Close the open bar, if anything is in it, and open the next. Returns whether there was something."""
        bar = self.open
        if not bar.started:
            return False
        if bar.length > MAX_BAR_QUARTERS:
            raise TuneError("abc.bar_too_long", file=self._name, bar=len(self.bars) + 1, quarters=float(bar.length))
        self.bars.append(bar)
        if len(self.bars) > MAX_BARS:
            raise TuneError("abc.too_many_bars", file=self._name, limit=MAX_BARS)
        self.open = OpenBar(key, meter)
        self.open.marks = BarMarks(endings=self._ending, section=self._next_section)
        self._next_section = ""
        return True

    def begin_section(self, name: str) -> None:
        """A section's name stands here: over the start of the open bar, or of the next where half of this is over."""
        if self.open.length * 2 >= self.open.meter.bar_length:
            self._next_section = name
        else:
            self.open.marks = replace(self.open.marks, section=name)

    def first_of_section(self) -> AbcEvent | None:
        """What a closing repeat sign leads back to: the first note or rest since the last opening or closing one."""
        bars = self.bars[self._section_start :]
        return next((event for bar in bars for event in bar.events if not event.grace), None)

    @property
    def in_ending(self) -> bool:
        """Whether the open bar, or the one just closed before its bar line was read, stands under an ending."""
        return bool(self._ending)

    def add_bar_line(self, text: str, ending: str, *, dotted: bool = False) -> None:
        """The bar line that was just cut at with its repeat signs, and an ending that begins after it."""
        text = text.replace("[|]", "")  # an invisible bar line
        colons_only = set(text) == {":"}
        before = len(text) - len(text.lstrip(":")) if text else 0
        after = len(text) - len(text.rstrip(":")) if text else 0
        last = self.bars[-1] if self.bars else None
        heavy = "||" in text or "]" in text or "[" in text
        if last is not None and before:
            times = 2 if colons_only else before + 1
            last.marks = replace(last.marks, repeat_end=max(last.marks.repeat_end, min(times, MAX_TIMES)))
        if last is not None and (dotted or (heavy and ":" not in text)):
            last.marks = replace(last.marks, bar_line=_line(text, dotted=dotted))
        if last is not None and (before or heavy or after):
            last.at_repeat_sign = True
        if self._ending and (before or heavy or after or ending):
            self._end_ending(last)
        numbers = _numbers(ending)
        if after or (before and not numbers):
            self._section_start = len(self.bars)
        if after:
            self.open.marks = replace(self.open.marks, repeat_start=True)
        if numbers:
            self._ending = numbers
            self.open.marks = replace(self.open.marks, endings=numbers, ending_starts=True)

    def _end_ending(self, last: OpenBar | None) -> None:
        self._ending = ()
        self.open.marks = replace(self.open.marks, endings=())
        if last is not None and last.marks.endings:
            last.marks = replace(last.marks, ending_stops=True)

    def finish(self) -> list[OpenBar]:
        """All bars. Signs after the last note, such as Fine, belong to the last bar."""
        left = self.open.marks
        if not self.close_bar(self.open.key, self.open.meter) and self.bars:
            last = self.bars[-1]
            last.marks = replace(
                last.marks,
                fine=last.marks.fine or left.fine,
                to_coda=last.marks.to_coda or left.to_coda,
                jump=last.marks.jump or left.jump,
                until=last.marks.until or left.until,
            )
        return self.bars


def _line(text: str, *, dotted: bool) -> BarLine:
    if dotted:
        return BarLine.DOTTED
    return BarLine.FINAL if text.endswith("]") else BarLine.DOUBLE


def _numbers(ending: str) -> tuple[int, ...]:
    """The times through, from "1", "1,3" or "1-3", for which an ending is played."""
    numbers: set[int] = set()
    for piece in ending.replace(".", ",").split(","):
        first, _, last = piece.partition("-")
        if first.isdecimal() and len(first) <= 2:
            end = int(last) if last.isdecimal() and len(last) <= 2 else int(first)
            numbers.update(range(int(first), min(end, MAX_TIMES) + 1))
    return tuple(sorted(number for number in numbers if 1 <= number <= MAX_TIMES))


def bars_from(bars: Sequence[OpenBar]) -> tuple[Bar, ...]:
    """Our own bars. The first is a pickup bar, and numbered 0, when it is short."""
    pickup = bool(bars) and len(bars) > 1 and bars[0].length < bars[0].meter.bar_length
    made: list[Bar] = []
    for number, bar in enumerate(bars, start=0 if pickup else 1):
        onsets = [Fraction(0)]
        for event in bar.events:
            onsets.append(onsets[-1] + event.length)
        made.append(
            Bar(
                number=str(number),
                meter=bar.meter,
                key=bar.key,
                length=bar.length,
                events=bracketed(tuple(_score_events(bar))),
                chords=tuple(_placed(bar, onsets)),
                marks=bar.marks,
                pickup=pickup and not made,
            )
        )
    return tuple(made)


def _placed(bar: OpenBar, onsets: Sequence[Fraction]) -> Iterator[ChordSymbol]:
    """The symbols where the events stand that they precede; several before one event share it."""
    last = len(onsets) - 1
    for onset, same in groupby(bar.chords, key=lambda pair: onsets[min(pair[0], last)]):
        chords = [chord for _, chord in same]
        end = next((later for later in onsets if later > onset), onset)
        if len(chords) > 1 and end > onset:
            short = max(bar.meter.bar_length - bar.length, Fraction(0))
            places = shared_places(len(chords), onset, end, bar.meter, ahead=short)
        else:
            places = (onset,) * len(chords)
        yield from (replace(chord, onset=place) for chord, place in zip(chords, places, strict=True))


def _score_events(bar: OpenBar) -> Iterator[Event]:
    if not any(event.pitch for event in bar.events):
        yield Rest(onset=Fraction(0), length=bar.length, value=NoteValue(base=Fraction(4)), whole_bar=True)
        return
    onset = Fraction(0)
    for event in bar.events:
        if event.grace and event.pitch:
            value = NoteValue(base=Fraction(1, 2))
            yield Note(onset=onset, length=Fraction(0), value=value, pitch=event.pitch, grace=True)
            continue
        yield from _heads(event, onset)
        onset += event.length


def _heads(event: AbcEvent, onset: Fraction) -> Iterator[Event]:
    """The noteheads of one note: several, tied, when no single value is as long."""
    values = _values(event)
    for index, value in enumerate(values):
        length = value.length if len(values) > 1 else event.length
        if event.pitch is None:
            yield Rest(onset=onset, length=length, value=value)
        else:
            yield Note(
                onset=onset,
                length=length,
                value=value,
                pitch=event.pitch,
                tied_to_next=event.tied_to_next or index < len(values) - 1,
                tied_from_previous=event.tied_from_previous or index > 0,
            )
        onset += length


def _values(event: AbcEvent) -> tuple[NoteValue, ...]:
    tuplet = event.tuplet
    if tuplet is None:
        return values_of(event.length)
    plain = values_of(event.printed)
    if any(value.tuplet for value in plain) or sum(value.length for value in plain) != event.printed:
        return values_of(event.length)
    last = len(plain) - 1
    return tuple(
        replace(
            value,
            tuplet=replace(tuplet, starts=tuplet.starts and index == 0, stops=tuplet.stops and index == last),
        )
        for index, value in enumerate(plain)
    )
