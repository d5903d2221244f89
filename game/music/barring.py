"""A quantised line put into bars: bar lines, the pickup bar, note values, ties over bar lines and beats. Pure."""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TypeVar

from game.music.keys import Key
from game.music.meter import Meter
from game.music.note_values import bracketed, value_of, values_of
from game.music.pitch import Pitch
from game.music.score import Bar, Event, Note, NoteValue, Rest
from game.music.triplet_groups import in_triplet_groups

# A rest shorter than this part of a cell is how notes are played, not written.
_UNWRITTEN_GAP = Fraction(3, 10)
Sign = TypeVar("Sign")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineNote:
    """One note of the line, in quarter notes from the start of the music."""

    onset: Fraction
    length: Fraction
    pitch: Pitch


@dataclass(frozen=True, slots=True)
class BarFrame:
    """An empty bar: where it starts, how long it is, and its signatures."""

    start: Fraction
    length: Fraction
    meter: Meter
    key: Key
    pickup: bool = False


def frames(
    meters: Sequence[tuple[Fraction, Meter]], keys: Sequence[tuple[Fraction, Key]], end: Fraction, *, most: int
) -> list[BarFrame]:
    """Bars from 0 to past `end`, at most one more than `most`. A change of metre cuts a bar short."""
    made: list[BarFrame] = []
    now = Fraction(0)
    while (now < end or not made) and len(made) <= most:
        meter = in_force(meters, now, Meter())
        length = meter.bar_length
        following = next((at for at, _ in meters if now < at < now + length), None)
        length = length if following is None else following - now
        made.append(BarFrame(now, length, meter, in_force(keys, now, Key())))
        now += length
    return _with_declared_pickup(made)


def _with_declared_pickup(made: list[BarFrame]) -> list[BarFrame]:
    """A first bar in a shorter metre of its own is how some programs write a pickup."""
    if len(made) < 3 or made[0].meter == made[1].meter or made[1].meter != made[2].meter:
        return made
    first, second = made[0], made[1]
    if first.length >= second.meter.bar_length:
        return made
    return [BarFrame(first.start, first.length, second.meter, first.key, pickup=True), *made[1:]]


def in_force(signs: Sequence[tuple[Fraction, Sign]], at: Fraction, default: Sign) -> Sign:
    """The sign that holds at `at`; `default` before the first."""
    index = bisect_right([when for when, _ in signs], at)
    return signs[index - 1][1] if index else default


def ends_written(onsets: Sequence[Fraction], ends: Sequence[float], cells: Sequence[Fraction]) -> list[Fraction]:
    """Where each note ends on the page: at the next one, when what is left between them is only touch; else at the
    nearest half of its cell, and never at its own beginning.
    """
    written = []
    for index, (onset, played_end, cell) in enumerate(zip(onsets, ends, cells, strict=True)):
        following = onsets[index + 1] if index + 1 < len(onsets) else None
        end = Fraction(played_end).limit_denominator(1_000)
        half = cell / 2
        on_grid = max(round(end / half) * half, onset + _least(onset, cell))
        if following is not None and (following - end <= _UNWRITTEN_GAP * cell or on_grid > following):
            on_grid = following
        written.append(on_grid)
    return written


def _least(onset: Fraction, cell: Fraction) -> Fraction:
    """The shortest note that may begin here: up to the next part of a cell divided as finely as the onset asks."""
    return cell / max(2, (onset / cell).denominator)


def bars_of(
    bar_frames: Sequence[BarFrame], notes: Sequence[LineNote], *, middle_shown: bool = False
) -> tuple[Bar, ...]:
    """The frames filled with the notes, ties over bar lines, rests between. A pickup bar is numbered 0.

    `middle_shown` writes syncopation as charts do: what begins or ends off the beat is tied at the middle of a bar of
    four beats, and a rest is cut at the beats it leaves.
    """
    bars = []
    first = 0
    number = 0 if bar_frames[0].pickup else 1
    for frame in bar_frames:
        stop = frame.start + frame.length
        inside = []
        while first < len(notes) and notes[first].onset + notes[first].length <= frame.start:
            first += 1
        for note in notes[first:]:
            if note.onset >= stop:
                break
            inside.append(note)
        bars.append(_bar(frame, inside, number, middle_shown=middle_shown))
        number += 1
    while len(bars) > 1 and not bars[-1].notes:
        bars.pop()
    return tuple(bars)


def _bar(frame: BarFrame, notes: Sequence[LineNote], number: int, *, middle_shown: bool) -> Bar:
    events: list[Event] = []
    now = Fraction(0)
    spans = [_span(note, frame) for note in notes]
    for note, (start, end), whole in zip(notes, spans, in_triplet_groups(spans), strict=True):
        events += _rests(now, start, frame.meter, middle_shown=middle_shown)
        events += _heads(note, frame, start, end, whole=whole, middle=_middle(frame) if middle_shown else None)
        now = end
    if notes:
        events += _rests(now, frame.length, frame.meter, middle_shown=middle_shown)
    else:
        events.append(Rest(onset=now, length=frame.length, value=NoteValue(base=Fraction(4)), whole_bar=True))
    return Bar(
        number=str(number),
        meter=frame.meter,
        key=frame.key,
        length=frame.length,
        events=bracketed(events),
        pickup=frame.pickup,
    )


def _span(note: LineNote, frame: BarFrame) -> tuple[Fraction, Fraction]:
    """What of a note lies in a bar, from the start of the bar."""
    start = max(note.onset - frame.start, Fraction(0))
    return start, min(note.onset + note.length - frame.start, frame.length)


def _middle(frame: BarFrame) -> Fraction | None:
    """Where the second half of a bar of four beats begins, from the start of what is there of the bar."""
    if frame.meter.bar_length != 4 * frame.meter.beat_length:
        return None
    return frame.meter.bar_length / 2 - (frame.meter.bar_length - frame.length if frame.pickup else 0)


def _rests(start: Fraction, end: Fraction, meter: Meter, *, middle_shown: bool) -> Iterator[Rest]:
    beat = meter.beat_length
    cuts = [-(-start // beat) * beat, end // beat * beat] if middle_shown else []
    for left, right in pairwise([start, *sorted({cut for cut in cuts if start < cut < end}), end]):
        for onset, length, value in _values(left, right, meter):
            yield Rest(onset=onset, length=length, value=value)


def _heads(
    note: LineNote, frame: BarFrame, start: Fraction, end: Fraction, *, whole: bool, middle: Fraction | None
) -> Iterator[Note]:
    """The noteheads of a note in one bar; `whole` is one of a group of triplets, which keeps its value over beats.
    Syncopated over `middle` it is tied there.
    """
    length, beat = end - start, frame.meter.beat_length
    single = value_of(length) if whole else None
    tied = middle is not None and start < middle < end and (start % beat or end % beat)
    parts = [(start, middle), (middle, end)] if middle is not None and tied else [(start, end)]
    values = [(start, length, single)] if single else [one for part in parts for one in _values(*part, frame.meter)]
    continues = note.onset + note.length > frame.start + frame.length
    for index, (onset, taken, value) in enumerate(values):
        yield Note(
            onset=onset,
            length=taken,
            value=value,
            pitch=note.pitch,
            tied_to_next=continues or index < len(values) - 1,
            tied_from_previous=note.onset < frame.start or index > 0,
        )


def _values(start: Fraction, end: Fraction, meter: Meter) -> Iterator[tuple[Fraction, Fraction, NoteValue]]:
    """Onset, length and printed value of what is between `start` and `end`: one value where the beat stays in sight."""
    for left, right in _printable(_pieces(start, end, meter.beat_length), min(Fraction(4, meter.unit), Fraction(1))):
        values = values_of(right - left)
        onset = left
        for value in values:
            length = value.length if len(values) > 1 else right - left
            yield onset, length, value
            onset += length


def _printable(pieces: Iterable[tuple[Fraction, Fraction]], unit: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """The pieces; one that no plain values come to, as of a triplet and what follows, is cut at the next beat."""
    for left, right in pieces:
        cut = (left // unit + 1) * unit
        if cut < right and not _is_plain(values_of(right - left), right - left):
            yield left, cut
            yield from _printable([(cut, right)], unit)
        else:
            yield left, right


def _is_plain(values: Sequence[NoteValue], length: Fraction) -> bool:
    if len(values) > 1 and any(value.tuplet for value in values):
        return False
    return sum(value.length for value in values) == length


def _pieces(start: Fraction, end: Fraction, beat: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """Cut at the beats that what begins or ends off the half beat would hide."""
    if end <= start:
        return
    next_beat = (start // beat + 1) * beat
    last_beat = (end / beat).__ceil__() * beat - beat
    half = beat / 2
    if end > next_beat and start % half:
        yield start, next_beat
        yield from _pieces(next_beat, end, beat)
    elif end > next_beat and end % half and last_beat > start:
        yield from _pieces(start, last_beat, beat)
        yield last_beat, end
    else:
        yield start, end
