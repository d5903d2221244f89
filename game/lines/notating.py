"""From onsets and pitches to printed bars: note values that show the beats, tied where they cross one (trade)."""

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

from game.lines.rhythms import EIGHTH, HALF, QUARTER, ticks_of
from game.lines.spots import Spot
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch
from game.music.score import Bar, Event, Note, NoteValue, Rest, Tuplet

# Printed values by length in ticks: base in quarter notes, dots.
_VALUES = {
    72: NoteValue(base=Fraction(4), dots=1),
    48: NoteValue(base=Fraction(4)),
    36: NoteValue(base=Fraction(2), dots=1),
    24: NoteValue(base=Fraction(2)),
    18: NoteValue(base=Fraction(1), dots=1),
    12: NoteValue(base=Fraction(1)),
    6: NoteValue(base=Fraction(1, 2)),
}
_THIRD = Fraction(1, 3)
_TRIPLET = tuple(
    NoteValue(base=Fraction(1, 2), tuplet=Tuplet(actual=3, normal=2, starts=place == 0, stops=place == 2))
    for place in range(3)
)


def bars_of(
    spots: Sequence[tuple[Spot, Pitch | None]],
    meter: Meter,
    key: Key,
    chords: Sequence[Sequence[ChordSymbol]],
) -> tuple[Bar, ...]:
    """The bars of a line without gaps. A spot without a pitch is a rest; there is a row of chords for each full bar.

    Spots before 0 stand in a pickup bar, which has no number that is counted and no chord.
    """
    length = ticks_of(meter)
    pickup = max(0, -spots[0][0].onset)
    rows: list[list[Event]] = [[] for _ in range(len(chords) + 1)]
    for spot, pitch in spots:
        end = spot.onset + spot.ticks
        start = spot.onset
        while start < end:
            bar = start // length
            stop = min(end, (bar + 1) * length)
            moved = length - pickup if bar < 0 else 0
            inside = (start - bar * length, stop - bar * length)
            tied = (start > spot.onset, stop < end)
            rows[bar + 1] += _events(spot, pitch, meter, inside, tied, moved)
            start = stop
    lead = (Bar(number="0", meter=meter, key=key, length=_quarters(pickup), events=tuple(rows[0]), pickup=True),)
    full = (
        Bar(
            number=str(index + 1),
            meter=meter,
            key=key,
            length=_quarters(length),
            events=tuple(row),
            chords=tuple(above),
        )
        for index, (row, above) in enumerate(zip(rows[1:], chords, strict=True))
    )
    return (*(lead if pickup else ()), *full)


def _events(
    spot: Spot, pitch: Pitch | None, meter: Meter, inside: tuple[int, int], tied: tuple[bool, bool], moved: int
) -> list[Event]:
    """The noteheads or rests of a spot `inside` one bar, from and to in its ticks, `tied` from the bar before and to
    the next; on the page the bar begins `moved` ticks later.
    """
    start, stop = inside
    if spot.triplet is not None:
        onset, value = _quarters(start - moved), _TRIPLET[spot.triplet]
        if pitch is None:
            return [Rest(onset=onset, length=_THIRD, value=value)]
        return [Note(onset=onset, length=_THIRD, value=value, pitch=pitch)]
    if pitch is None:
        return [
            Rest(onset=_quarters(at - moved), length=_quarters(ticks), value=_VALUES[ticks])
            for at, ticks in rests_of(start, stop, meter)
        ]
    pieces = pieces_of(start, stop, meter)
    goes_on = tied[1]
    return [
        Note(
            onset=_quarters(at - moved),
            length=_quarters(ticks),
            value=_VALUES[ticks],
            pitch=pitch,
            tied_from_previous=index > 0 or tied[0],
            tied_to_next=index < len(pieces) - 1 or goes_on,
        )
        for index, (at, ticks) in enumerate(pieces)
    ]


@cache
def pieces_of(start: int, stop: int, meter: Meter) -> tuple[tuple[int, int], ...]:
    """Onsets and ticks of note values from `start` to `stop`, ticks in the bar. They show its middle."""
    cut = next((cut for cut in _cuts(meter) if start < cut < stop and _hides(start, stop, cut, meter)), None)
    if cut is not None:
        return (*pieces_of(start, cut, meter), *pieces_of(cut, stop, meter))
    if stop - start in _VALUES:
        return ((start, stop - start),)
    largest = max(ticks for ticks in _VALUES if ticks < stop - start)
    # The longer part stands on the stronger beat: last where the note begins off the beat.
    cut = stop - largest if start % QUARTER else start + largest
    return (*pieces_of(start, cut, meter), *pieces_of(cut, stop, meter))


@cache
def rests_of(start: int, stop: int, meter: Meter) -> tuple[tuple[int, int], ...]:
    """Onsets and ticks of the rests from `start` to `stop`, ticks in the bar: undotted in simple metres, from beat to
    beat, two beats in one only where a half of the bar begins (trade).
    """
    if meter.compound or (start, stop) == (0, ticks_of(meter)):
        return pieces_of(start, stop, meter)
    found = []
    while start < stop:
        reach = QUARTER - start % QUARTER if start % HALF else HALF
        ticks = max(ticks for ticks in (HALF, QUARTER, EIGHTH) if ticks <= min(reach, stop - start))
        found.append((start, ticks))
        start += ticks
    return tuple(found)


def _cuts(meter: Meter) -> tuple[int, ...]:
    """Places a note should show, the strongest first."""
    length = ticks_of(meter)
    beat = int(meter.beat_length * QUARTER)
    beats = range(beat, length, beat)
    middle = (length // 2,) if length % (2 * beat) == 0 or length == 48 else ()
    return (*middle, *beats)


def _hides(start: int, stop: int, cut: int, meter: Meter) -> bool:
    """Whether a single note over `cut` would be hard to read: unless both its ends lie on beats, or it fills one."""
    if meter.compound:
        beat = int(meter.beat_length * QUARTER)
        return bool(start % beat or stop % beat) or stop - start not in _VALUES
    on_beats = start % QUARTER == 0 and stop % QUARTER == 0
    if on_beats:
        return stop - start not in _VALUES
    middle = ticks_of(meter) // 2
    if cut == middle and middle % (2 * QUARTER) == 0:
        return True
    # Off the middle a dotted quarter, or a quarter between beats, is plain.
    return stop - start not in (12, 18)


@cache
def _quarters(ticks: int) -> Fraction:
    return Fraction(ticks, QUARTER)
