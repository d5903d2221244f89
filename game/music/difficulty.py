"""How hard bars are to read at first sight, in one number and its parts. Pure.

The measure is ours, made from what teachers grade by (trade): wider intervals, more accidentals, more notes a beat,
rhythms off the beat and triplets, stretches and shifts, and notes this player is slow to find. It orders music for one
player; it is no grade of any board, and differences under half a point mean nothing. About: whole and half notes in
steps come to 1 or less, quarters in thirds to 2 or 3, eighth-note lines with accidentals to 5 and more.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from game.music.accidentals import AlteredBy
from game.music.score import Bar, NoteValue, Reading
from game.music.written import WrittenNote, written_notes

# By how many lines and spaces apart two notes stand (0 the same, 7 an octave): an octave looks easier than a seventh.
_INTERVAL = (0.0, 0.25, 0.7, 1.0, 1.4, 1.7, 2.1, 1.8)
_WIDER = 2.6
# What a share of all notes, or a note a beat, adds.
_ACCIDENTAL, _HELD_ACCIDENTAL, _IN_SIGNATURE = 5.0, 3.0, 0.8
_NOTE_A_BEAT, _MOST_NOTES_A_BEAT = 0.9, 4.0
_SYNCOPATED, _TUPLET, _OFF_BEAT, _KIND_OF_VALUE = 3.0, 1.5, 0.6, 0.12
_STRETCH = 1.5
_SLOW = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Difficulty:
    """The parts of a difficulty, each 0 or more."""

    intervals: float
    accidentals: float
    density: float
    rhythm: float
    stretches: float = 0.0
    slow_notes: float = 0.0

    @property
    def page_total(self) -> float:
        """What is the same for every player and map."""
        return self.intervals + self.accidentals + self.density + self.rhythm


EASIEST = Difficulty(intervals=0.0, accidentals=0.0, density=0.0, rhythm=0.0)


def difficulty(
    bars: Sequence[Bar],
    reading: Reading,
    *,
    stretches: Mapping[int, float] | None = None,
    weights: Mapping[int, float] | None = None,
) -> Difficulty:
    """The difficulty of a page, its bars read once as they stand.

    `stretches` holds, by sounding MIDI number, what a pitch costs the hand (1 a stretch, more for a shift, nothing in
    position); `weights` how slow the player is with it (0 fluent, 1 slow). Pitches that are not in them cost nothing.
    Bars without notes are the easiest there are.
    """
    notes = written_notes(bars, reading)
    if not notes:
        return EASIEST
    sounding = [note.sounding for note in notes]
    return Difficulty(
        intervals=_intervals(notes),
        accidentals=_accidentals(notes),
        density=_density(notes, bars),
        rhythm=_rhythm(bars, len(notes)),
        stretches=_STRETCH * _mean(sounding, stretches or {}),
        slow_notes=_SLOW * _mean(sounding, weights or {}),
    )


def player_parts(
    counts: Mapping[int, int], *, stretches: Mapping[int, float], weights: Mapping[int, float]
) -> tuple[float, float]:
    """The parts for stretches and slow notes alone, from how often each sounding pitch occurs."""
    notes = sum(counts.values())
    return _STRETCH * _mean_of(counts, notes, stretches), _SLOW * _mean_of(counts, notes, weights)


def _mean_of(counts: Mapping[int, int], notes: int, costs: Mapping[int, float]) -> float:
    if not (notes and costs):
        return 0.0
    return sum(costs.get(pitch, 0.0) * count for pitch, count in counts.items()) / notes


def _mean(sounding: Sequence[int], costs: Mapping[int, float]) -> float:
    return sum(costs.get(pitch, 0.0) for pitch in sounding) / len(sounding) if sounding else 0.0


def _intervals(notes: Sequence[WrittenNote]) -> float:
    leaps = [abs(after.pitch.staff_step - before.pitch.staff_step) for before, after in pairwise(notes)]
    costs = [_INTERVAL[leap] if leap < len(_INTERVAL) else _WIDER for leap in leaps]
    return sum(costs) / len(costs) if costs else 0.0


def _accidentals(notes: Sequence[WrittenNote]) -> float:
    cost_of = {
        AlteredBy.NOTHING: 0.0,
        AlteredBy.SIGNATURE: _IN_SIGNATURE,
        AlteredBy.ACCIDENTAL: _ACCIDENTAL,
        AlteredBy.EARLIER: _HELD_ACCIDENTAL,
    }
    return sum(cost_of[note.shown.altered_by] for note in notes) / len(notes)


def _density(notes: Sequence[WrittenNote], bars: Sequence[Bar]) -> float:
    """Notes a beat, over the beats in which something is played."""
    beats = sum(float(bar.length / bar.meter.beat_length) for bar in bars if bar.notes)
    return _NOTE_A_BEAT * min(len(notes) / beats, _MOST_NOTES_A_BEAT) if beats else 0.0


def _rhythm(bars: Sequence[Bar], count: int) -> float:
    syncopated = tuplets = off_beats = 0
    values: set[NoteValue] = set()
    for bar in bars:
        for note in bar.notes:
            if note.grace or note.tied_from_previous:
                continue
            beat = bar.meter.beat_length
            place = note.onset % beat
            over = note.tied_to_next or note.onset + note.length > note.onset - place + beat
            tuplets += note.value.tuplet is not None
            syncopated += bool(place) and over
            off_beats += bool(place) and note.value.tuplet is None and _first_in(bar, note.onset, beat)
            values.add(NoteValue(base=note.value.base, dots=note.value.dots))
    per_note = _SYNCOPATED * syncopated + _TUPLET * tuplets + _OFF_BEAT * off_beats
    return per_note / count + _KIND_OF_VALUE * max(0, len(values) - 1)


def _first_in(bar: Bar, onset: Fraction, beat: Fraction) -> bool:
    """Whether nothing is struck earlier in the beat of this note: it comes after a rest or a held note."""
    start = onset - onset % beat
    return not any(start <= other.onset < onset and not other.tied_from_previous for other in bar.notes if other.length)


def chromatic_notes(bars: Sequence[Bar], reading: Reading) -> int:
    """How many notes carry an accidental, printed or held over from earlier in the bar."""
    return sum(
        note.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER) for note in written_notes(bars, reading)
    )


def notes_a_beat(bars: Sequence[Bar], reading: Reading) -> float:
    """How dense the music is: notes a beat of its own metre, over the bars in which something is played."""
    notes = written_notes(bars, reading)
    return _density(notes, bars) / _NOTE_A_BEAT
