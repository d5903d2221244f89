"""The written notes in order of play: what a player is asked for, one after another.

Repeats are written out, tied noteheads joined into one note, grace notes left out.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from game.music.accidentals import ShownAccidental, shown_accidentals
from game.music.clef import Clef
from game.music.order import order_of_play
from game.music.pitch import Pitch
from game.music.score import NO_MARKS, Bar, BarLine, BarMarks, Note, Reading, Score


@dataclass(frozen=True, slots=True, order=True)
class HeadId:
    """A notehead of a written-out page: bar and event index, both from 0."""

    bar: int
    event: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenNote:
    """One note to be played.

    `n` counts from 1; `bar` is the number as printed; `onset` (from the start of the music) and `length` are in
    quarter notes, ties joined. `heads` are its noteheads in the written-out bars, first the one that is struck;
    `signature` is what the key signature does to its letter; `clef` that of the page.
    """

    n: int
    bar: str
    onset: Fraction
    length: Fraction
    pitch: Pitch
    sounding: int
    heads: tuple[HeadId, ...]
    shown: ShownAccidental
    signature: int
    clef: Clef = Clef.TREBLE


def written_out(score: Score) -> Score:
    """The same music with repeats and jumps written out: one bar after another. Of the marks those stay that divide the
    page: words of sections, and double bar lines, which stand where a repeat sign or a final bar line stood too.
    """
    opens = [not bar.pickup and after.marks.repeat_start for bar, after in pairwise(score.bars)]
    marks = [
        _dividing(bar.marks, opens=opens_next) for bar, opens_next in zip(score.bars, (*opens, False), strict=False)
    ]
    bars = [replace(score.bars[index], marks=marks[index]) for index in order_of_play(score.bars)]
    if bars:
        # How the tune ends is drawn by whoever knows that it ends there.
        bars[-1] = replace(bars[-1], marks=replace(bars[-1].marks, bar_line=None))
    return replace(score, bars=tuple(bars))


def _dividing(marks: BarMarks, *, opens: bool) -> BarMarks:
    """What divides the page at a bar; `opens` where a repeat begins after it."""
    line = BarLine.DOUBLE if marks.repeat_end or opens or marks.bar_line is BarLine.FINAL else marks.bar_line
    return BarMarks(section=marks.section, bar_line=line) if line or marks.section else NO_MARKS


def written_notes(bars: Sequence[Bar], reading: Reading) -> tuple[WrittenNote, ...]:
    """The notes of written-out bars in order of play. A tie whose other end is missing is read as a new note."""
    shown = shown_accidentals(bars)
    notes: list[WrittenNote] = []
    bar_start = Fraction(0)
    open_tie: Pitch | None = None
    for bar_index, bar in enumerate(bars):
        for event_index, event in enumerate(bar.events):
            if not isinstance(event, Note) or event.grace:
                continue
            head = HeadId(bar_index, event_index)
            onset = bar_start + event.onset
            if event.tied_from_previous and open_tie == event.pitch and onset == _end(notes[-1]):
                last = notes[-1]
                notes[-1] = replace(last, length=last.length + event.length, heads=(*last.heads, head))
            else:
                notes.append(
                    WrittenNote(
                        n=len(notes) + 1,
                        bar=bar.number,
                        onset=onset,
                        length=event.length,
                        pitch=event.pitch,
                        sounding=event.pitch.midi - 12 * reading.octaves_down,
                        heads=(head,),
                        shown=shown[bar_index][event_index],
                        signature=bar.key.alter_of(event.pitch.step),
                        clef=reading.clef,
                    )
                )
            open_tie = event.pitch if event.tied_to_next else None
        bar_start += bar.length
    return tuple(notes)


def _end(note: WrittenNote) -> Fraction:
    return note.onset + note.length
