"""Notes of a tune that leave the key for a moment, and where they go."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from game.lines.degree_chords import Chord
from game.lines.intervals import is_plain
from game.lines.line_request import LineRequest
from game.lines.phrasing import PhraseSpot
from game.lines.rhythms import QUARTER
from game.lines.scale import Scale
from game.music.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Sung:
    """A note of a tune, its place in time, and the chord it stands over."""

    spot: PhraseSpot
    pitch: Pitch
    chord: Chord


def with_accidentals(asked: LineRequest, line: Sequence[Sung], rng: Random) -> list[Pitch]:
    """The pitches, some altered: the leading note before its goal where the chord has it, and chromatic neighbours.

    Only a note off the beat, or on a weak one, gives way, and only to a note that leads by a semitone to the next.
    """
    level, scale = asked.level, asked.scale
    pitches = [note.pitch for note in line]
    if not level.chromatic:
        return pitches
    for index in range(1, len(line) - 1):
        before, here, after = pitches[index - 1], line[index], pitches[index + 1]
        follows = here.spot.onset + here.spot.ticks == line[index + 1].spot.onset
        led = before != line[index - 1].pitch
        if led or not follows or abs(here.pitch.staff_step - after.staff_step) != 1:
            continue
        leading = _leading(scale, here, after)
        if leading and is_plain(before, leading):
            pitches[index] = leading
        elif here.spot.onset % (2 * QUARTER) and here.spot.ticks <= QUARTER:
            neighbour = scale.neighbour(after, above=here.pitch.staff_step > after.staff_step)
            odd = level.chromatic * asked.weights.get(neighbour.midi, 1.0) if neighbour else 0.0
            if neighbour and is_plain(before, neighbour) and rng.random() < odd:
                pitches[index] = neighbour
    return pitches


def _leading(scale: Scale, here: Sung, after: Pitch) -> Pitch | None:
    """The note as its chord alters it, where it lies a semitone below the next."""
    alter = dict(here.chord.spelling).get(here.pitch.step, here.pitch.alter)
    pitch = Pitch(here.pitch.step, alter, here.pitch.octave)
    return pitch if alter != here.pitch.alter and after.midi - pitch.midi == 1 and pitch.midi in scale.written else None
