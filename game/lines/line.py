"""A fresh line: from a level, a key and chance to a Score on the player's map."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from random import Random

from game.errors import TuneError
from game.lines.changes import Chord, changes, plain_chord
from game.lines.levels import Level, Making
from game.lines.over_changes import cell, targets
from game.lines.scale import Scale, scale_of
from game.lines.walk import rhythm_of_bar, walk
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch
from game.music.score import Bar, Event, Note, NoteValue, Rest, Score, Tuplet
from game.neck.map import NeckMap

MOST_BARS = 64
COMMON_TIME = Meter()
_EIGHTH = Fraction(1, 2)
_DOTTED = {Fraction(3): (Fraction(2), 1), Fraction(3, 2): (Fraction(1), 1)}


def fresh_line(
    level: Level,
    neck_map: NeckMap,
    *,
    key: Key,
    bars: int,
    rng: Random,
    meter: Meter = COMMON_TIME,
    weights: Mapping[int, float] | None = None,
) -> Score:
    """A line of so many bars, 2 to 64, all of it on the map.

    `weights` by sounding MIDI number (1 is usual) bring notes up more often. Lines over changes are in 4/4. Raises
    `TuneError` for a length out of range, or a map with too few notes of the key.
    """
    if not 2 <= bars <= MOST_BARS:
        raise TuneError(f"a line of {bars} bars cannot be made: choose 2 to {MOST_BARS}")
    scale = scale_of(key, neck_map)
    up = 12 * neck_map.reading.octaves_down
    written_weights = {sounding + up: weight for sounding, weight in (weights or {}).items()}
    if level.making is Making.SCALE:
        made = tuple(_scale_bars(level, scale, meter, bars, rng, written_weights))
    else:
        made = tuple(_change_bars(level, scale, bars, rng, written_weights))
    return Score(
        title=f"{level.name.capitalize()}, in {key.name}",
        composer="A fresh line",
        reading=neck_map.reading,
        bars=made,
        swung=level.making is Making.CHANGES or None,
        octave_reason="A fresh line is made for your own map.",
    )


def _scale_bars(
    level: Level, scale: Scale, meter: Meter, bars: int, rng: Random, weights: Mapping[int, float]
) -> Iterator[Bar]:
    rhythm = [rhythm_of_bar(level, meter, rng, last=index == bars - 1) for index in range(bars)]
    pitches = iter(walk(level, scale, sum(len(row) for row in rhythm), rng, weights))
    for index, row in enumerate(rhythm):
        notes = [(length, next(pitches)) for length in row]
        letters = frozenset(pitch.step for _, pitch in notes)
        chord = plain_chord(scale, letters, last=index == bars - 1)
        yield _bar(index, scale.key, meter, chord, _events(notes))


def _change_bars(level: Level, scale: Scale, bars: int, rng: Random, weights: Mapping[int, float]) -> Iterator[Bar]:
    chords = changes(scale, bars, rng)
    line = targets(scale, chords, rng, weights)
    # Whether the note before leads by a semitone: then its goal may not be left out.
    led = False
    for index, chord in enumerate(chords):
        here, middle = line[2 * index], line[2 * index + 1]
        tones = chord.tones(scale)
        if index == bars - 1:
            yield _bar(index, scale.key, COMMON_TIME, chord, _events([(Fraction(4), here)]))
            return
        events: list[Event] = []
        for half, (start, ahead) in enumerate(((here, middle), (middle, line[2 * index + 2]))):
            notes = cell(level, scale, start, ahead, tones, rng)
            events += _half_bar(level, scale, notes, Fraction(2 * half), rng, may_rest=not led)
            led = notes[-1].alter != scale.key.alter_of(notes[-1].step)
        yield _bar(index, scale.key, COMMON_TIME, chord, tuple(events))


def _half_bar(
    level: Level, scale: Scale, notes: Sequence[Pitch], onset: Fraction, rng: Random, *, may_rest: bool
) -> tuple[Event, ...]:
    """Four eighths; now and then a rest in place of the first, or a triplet in the first beat."""
    eighth = NoteValue(base=_EIGHTH)
    if may_rest and rng.random() < level.rests:
        rest = Rest(onset=onset, length=_EIGHTH, value=eighth)
        return (rest, *_events([(_EIGHTH, pitch) for pitch in notes[1:]], onset + _EIGHTH))
    between = scale.neighbour(notes[1], above=notes[0].midi > notes[1].midi)
    room = between is not None and between.midi not in (notes[0].midi, notes[1].midi)
    if rng.random() < level.triplets and room and between is not None:
        return (*_triplet((notes[0], between, notes[1]), onset), *_events([(_EIGHTH, p) for p in notes[2:]], onset + 1))
    return _events([(_EIGHTH, pitch) for pitch in notes], onset)


def _triplet(pitches: Sequence[Pitch], onset: Fraction) -> tuple[Note, ...]:
    third = Fraction(1, 3)
    return tuple(
        Note(
            onset=onset + index * third,
            length=third,
            value=NoteValue(base=_EIGHTH, tuplet=Tuplet(actual=3, normal=2, starts=index == 0, stops=index == 2)),
            pitch=pitch,
        )
        for index, pitch in enumerate(pitches)
    )


def _events(notes: Sequence[tuple[Fraction, Pitch]], onset: Fraction = Fraction(0)) -> tuple[Note, ...]:
    events = []
    for length, pitch in notes:
        base, dots = _DOTTED.get(length, (length, 0))
        events.append(Note(onset=onset, length=length, value=NoteValue(base=base, dots=dots), pitch=pitch))
        onset += length
    return tuple(events)


def _bar(index: int, key: Key, meter: Meter, chord: Chord, events: tuple[Event, ...]) -> Bar:
    return Bar(
        number=str(index + 1),
        meter=meter,
        key=key,
        length=sum((event.length for event in events), Fraction(0)),
        events=events,
        chords=(chord.symbol,),
    )
