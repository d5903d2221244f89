"""Where the clock of a take is in its music: bars by their starts, and one written note a click."""

from dataclasses import replace
from fractions import Fraction

from game.music.passage import Passage
from game.music.written import WrittenNote


def one_a_click(notes: tuple[WrittenNote, ...]) -> tuple[WrittenNote, ...]:
    """The notes a quarter apart, rhythm ignored."""
    return tuple(replace(note, onset=Fraction(index), length=Fraction(1)) for index, note in enumerate(notes))


def place_on_page(notes: tuple[WrittenNote, ...], click: float) -> float:
    """Where the page is when the clock is at a click: the noteheads in turn."""
    if click <= 0:
        return float(notes[0].onset) + click
    index = min(int(click), len(notes) - 1)
    here = float(notes[index].onset)
    ahead = float(notes[index + 1].onset) if index + 1 < len(notes) else here + 1.0
    return here + (ahead - here) * min(click - index, 1.0)


def bar_starts(passage: Passage) -> tuple[Fraction, ...]:
    """Where each bar starts, and where the last one ends."""
    starts = [Fraction(0)]
    for bar in passage.bars:
        starts.append(starts[-1] + bar.length)
    return tuple(starts)
