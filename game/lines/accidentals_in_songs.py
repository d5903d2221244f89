"""The notes of a song that leave its key for a moment: leading notes where the chord has them, chromatic neighbours."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from game.lines.degree_chords import Chord
from game.lines.footing import place_of
from game.lines.line_request import LineRequest
from game.lines.rhythms import QUARTER
from game.lines.scale import Scale
from game.lines.spots import Spot
from game.music.pitch import Pitch

# Semitones by letters apart: steps, thirds, perfect fourths and fifths, sixths, the octave. Augmented and diminished
# ones and sevenths are left to those who mean them (common practice of melody writing, trade).
_PLAIN_INTERVALS = {0: (0,), 1: (1, 2), 2: (3, 4), 3: (5,), 4: (7,), 5: (8, 9), 7: (12,)}


@dataclass(frozen=True, slots=True)
class TuneNote:
    """A note of a tune, its place in time, and the chord it stands over."""

    spot: Spot
    pitch: Pitch
    chord: Chord


def with_accidentals(request: LineRequest, line: Sequence[TuneNote], rng: Random) -> list[Pitch]:
    """The pitches, some altered: the leading note before its goal where the chord has it, and chromatic neighbours.

    Only a note off the beat, or on a weak one, gives way, and only to a note that leads by a semitone to the next; what
    comes back does so as it did before.
    """
    level, scale = request.level, request.scale
    pitches = [note.pitch for note in line]
    if not level.chromatic:
        return pitches
    firm = ("strong", "beat") if request.meter.compound else ("strong",)
    drawn: dict[tuple[Pitch, Pitch, Pitch], float] = {}
    for index in range(1, len(line) - 1):
        before, here, after = pitches[index - 1], line[index], pitches[index + 1]
        follows = here.spot.onset + here.spot.ticks == line[index + 1].spot.onset
        led = before != line[index - 1].pitch
        if led or not follows or abs(here.pitch.staff_step - after.staff_step) != 1:
            continue
        leading = _leading(scale, here, after)
        if leading and is_plain(before, leading):
            pitches[index] = leading
        elif place_of(here.spot.onset, request.meter) not in firm and here.spot.ticks <= QUARTER:
            neighbour = scale.neighbour(after, above=here.pitch.staff_step > after.staff_step)
            odd = level.chromatic * request.weights.get(neighbour.midi, 1.0) if neighbour else 0.0
            if (
                neighbour
                and is_plain(before, neighbour)
                and drawn.setdefault((before, here.pitch, after), rng.random()) < odd
            ):
                pitches[index] = neighbour
    return pitches


def _leading(scale: Scale, here: TuneNote, after: Pitch) -> Pitch | None:
    """The note as its chord alters it, where it lies a semitone below the next."""
    alter = dict(here.chord.spelling).get(here.pitch.step, here.pitch.alter)
    pitch = Pitch(here.pitch.step, alter, here.pitch.octave)
    return pitch if alter != here.pitch.alter and after.midi - pitch.midi == 1 and pitch.midi in scale.written else None


def is_plain(before: Pitch, after: Pitch) -> bool:
    """Whether an interval is a plain one as it is spelled, up or down."""
    return abs(after.midi - before.midi) in _PLAIN_INTERVALS.get(abs(after.staff_step - before.staff_step), ())
