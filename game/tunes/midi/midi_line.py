"""From the parts of a MIDI file to one line: which part is the melody, and what of it. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from game.message import Message, message
from game.tunes.midi.midi_file import MidiNote, MidiPart
from game.tunes.midi.quantised import TOGETHER
from game.tunes.midi.written_grid import TOGETHER_AS_WRITTEN, written_onsets
from game.tunes.part_names import no_such_part, part_told, parts_listed

# From this share of notes on that sound alone a part is a line (ours).
_LINE = 0.8
_MELODY_WORDS = ("melody", "melodie", "vocal", "voice", "lead", "tune", "solo")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenLine:
    """The part that is read, one note at a time, and the sentences about what was chosen and left out."""

    part: MidiPart
    notes: tuple[MidiNote, ...]
    warnings: tuple[Message, ...]


def chosen_line(parts: Sequence[MidiPart], number: int | None, file_name: str, *, ticks: float) -> ChosenLine:
    """The part with that number, counted from 1, or the one that is most likely the melody: a line rather than
    chords, called so, and the highest. Raises `TuneError` when there is no such part.
    """
    names = tuple(part.name for part in parts)
    if number is not None and not 1 <= number <= len(parts):
        raise no_such_part(names, number, file_name)
    part = max(parts, key=_likelihood) if number is None else parts[number - 1]
    warnings = []
    if number is None and len(parts) > 1:
        listed, melody = parts_listed(names), part_told(part.name)
        warnings.append(message("midi.melody_chosen", count=len(parts), parts=listed, part=melody))
    written = written_onsets([note.start for note in part.notes], ticks) is not None
    notes, left_out = top_line(part.notes, together=TOGETHER_AS_WRITTEN if written else TOGETHER)
    if left_out:
        warnings.append(message("midi.top_note_read", count=left_out))
    return ChosenLine(part=part, notes=notes, warnings=tuple(warnings))


def _likelihood(part: MidiPart) -> tuple[bool, bool, float]:
    notes, left_out = top_line(part.notes)
    is_line = left_out <= (1 - _LINE) * len(part.notes)
    named = any(word in part.name.casefold() for word in _MELODY_WORDS)
    return (is_line, named, median(note.midi for note in notes))


def top_line(notes: Sequence[MidiNote], *, together: float = TOGETHER) -> tuple[tuple[MidiNote, ...], int]:
    """The notes without those below another: of a chord the top one stays, and what sounds under a held note goes.
    Notes less than `together` quarter notes apart are a chord.

    Returns how many were left out, too.
    """
    line: list[MidiNote] = []
    for note in sorted(notes, key=lambda one: (one.start, -one.midi)):
        before = line[-1] if line else None
        if before is not None and note.start - before.start < together:
            if note.midi > before.midi:
                line[-1] = MidiNote(before.start, note.end, note.midi)
            continue
        if before is not None and note.midi < before.midi and note.end <= before.end + together:
            continue
        line.append(note)
    return tuple(line), len(notes) - len(line)
