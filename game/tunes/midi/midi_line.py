"""From the parts of a MIDI file to one line: which part is the melody, and what of it. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from game.errors import TuneError
from game.tunes.midi.midi_file import MidiNote, MidiPart
from game.tunes.midi.quantised import TOGETHER
from game.tunes.musicxml.parts import listed

# From this share of notes on that sound alone a part is a line (ours).
_LINE = 0.8
_MELODY_WORDS = ("melody", "melodie", "vocal", "voice", "lead", "tune", "solo")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenLine:
    """The part that is read, one note at a time, and the sentences about what was chosen and left out."""

    part: MidiPart
    notes: tuple[MidiNote, ...]
    warnings: tuple[str, ...]


def chosen_line(parts: Sequence[MidiPart], number: int | None, file_name: str) -> ChosenLine:
    """The part with that number, counted from 1, or the one that is most likely the melody: a line rather than
    chords, called so, and the highest. Raises `TuneError` when there is no such part.
    """
    names = tuple(part.name for part in parts)
    if number is not None and not 1 <= number <= len(parts):
        there = "only one part" if len(parts) == 1 else f"{len(parts)} parts ({listed(names)})"
        raise TuneError("midi.part_choose_one_those", file_name=file_name, there=there, number=number)
    part = max(parts, key=_likelihood) if number is None else parts[number - 1]
    warnings = []
    if number is None and len(parts) > 1:
        warnings.append(f"Of {len(parts)} parts ({listed(names)}) {part.name} was taken for the melody.")
    notes, left_out = one_line(part.notes)
    if left_out:
        several = "s were" if left_out > 1 else " was"
        warnings.append(f"Of notes that sound together the top one was read: {left_out} note{several} left out.")
    return ChosenLine(part=part, notes=notes, warnings=tuple(warnings))


def _likelihood(part: MidiPart) -> tuple[bool, bool, float]:
    notes, left_out = one_line(part.notes)
    is_line = left_out <= (1 - _LINE) * len(part.notes)
    named = any(word in part.name.casefold() for word in _MELODY_WORDS)
    return (is_line, named, median(note.midi for note in notes))


def one_line(notes: Sequence[MidiNote]) -> tuple[tuple[MidiNote, ...], int]:
    """The notes without those below another: of a chord the top one stays, and what sounds under a held note goes.

    Returns how many were left out, too.
    """
    line: list[MidiNote] = []
    for note in sorted(notes, key=lambda one: (one.start, -one.midi)):
        before = line[-1] if line else None
        if before is not None and note.start - before.start < TOGETHER:
            if note.midi > before.midi:
                line[-1] = MidiNote(before.start, note.end, note.midi)
            continue
        if before is not None and note.midi < before.midi and note.end <= before.end + TOGETHER:
            continue
        line.append(note)
    return tuple(line), len(notes) - len(line)
