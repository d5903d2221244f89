"""What kind of line a passage is: the levels of pitch and rhythm that come nearest to it."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from statistics import mean

from game.lines.levels import Level, level_of
from game.lines.rhythms import CHANGES_METERS
from game.music.meter import Meter
from game.music.passage import Passage
from game.music.score import Note, Rest
from game.music.written import WrittenNote

# Shares of notes or intervals from which a passage holds something (ours, from what the levels themselves hold: see
# `tests.bench.lines`).
_SOME, _SOME_LEAPS, _RHYTHM = 0.05, 0.03, 0.03
_SOLO_EIGHTHS = 0.35
# The first level over changes, and the rhythm level that goes with it.
_FIRST_SOLO, _ITS_RHYTHM = 6, 4
_FIVE_NOTES, _OCTAVE = 4, 7
_EIGHTH, _DOTTED_QUARTER = Fraction(1, 2), Fraction(3, 2)


def nearest_level(passage: Passage) -> Level:
    """The level whose lines hold what the passage holds. Only swung passages in eighths are like lines over changes."""
    notes = passage.notes
    moves = [abs(after.pitch.staff_step - before.pitch.staff_step) for before, after in pairwise(notes)] or [0]
    chromatic = mean(note.pitch.alter != note.signature for note in notes)
    steps = [note.pitch.staff_step for note in notes]
    span = max(steps) - min(steps)
    if _is_solo(passage, notes):
        # Changes bring notes outside the signature at every level; what tells them apart is the rhythm.
        return level_of(max(_FIRST_SOLO, _FIRST_SOLO - _ITS_RHYTHM + nearest_rhythm(passage, passage.bars[-1].meter)))
    if chromatic > _SOME:
        return level_of(5)
    if mean(move > 2 for move in moves) > _SOME_LEAPS:
        return level_of(4)
    if span > _OCTAVE:
        return level_of(3)
    return level_of(2 if span > _FIVE_NOTES or any(move > 1 for move in moves) else 1)


def nearest_rhythm(passage: Passage, meter: Meter) -> int:
    """The number of the rhythm level whose cells the passage has."""
    heads = [event for bar in passage.bars for event in bar.events if isinstance(event, Note) and not event.grace]
    rests = [event for bar in passage.bars for event in bar.events if isinstance(event, Rest) and event.length < 1]
    notes = passage.notes
    off_beat = [note for note in notes if _in_bar(passage, note) % meter.beat_length % 1 == _EIGHTH]
    if not meter.compound and _some(notes, [head for head in heads if head.value.tuplet]):
        return 6
    if _some(notes, [note for note in off_beat if note.length > _EIGHTH]):
        return 5
    if _some(notes, rests):
        return 4
    if _some(notes, [note for note in notes if note.length == _DOTTED_QUARTER]):
        return 3
    return 2 if any(note.length < 1 for note in notes) else 1


def _in_bar(passage: Passage, note: WrittenNote) -> Fraction:
    """The onset of a note in its bar; a pickup bar counts back from its end."""
    head = note.heads[0]
    bar = passage.bars[head.bar]
    onset = bar.events[head.event].onset
    return onset - bar.length if bar.pickup else onset


def _is_solo(passage: Passage, notes: Sequence[WrittenNote]) -> bool:
    eighths = mean(note.length <= _EIGHTH for note in notes)
    return bool(passage.score.swung) and eighths > _SOLO_EIGHTHS and passage.bars[-1].meter in CHANGES_METERS


def _some(notes: Sequence[WrittenNote], found: Sequence[object]) -> bool:
    return len(found) > _RHYTHM * len(notes)
