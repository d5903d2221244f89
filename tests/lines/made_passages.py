"""Passages for the tests of siblings: made by hand, from shipped tunes, and fresh ones."""

from fractions import Fraction
from functools import cache

from game.lines.levels import LEVELS
from game.music.keys import Key
from game.music.meter import Meter
from game.music.passage import passages_of, whole_tune
from game.music.pitch import pitch
from game.music.score import Bar, Note, NoteValue, Reading, Score
from game.music.written import written_out
from game.tunes.library.library import open_entry
from tests.lines.making import line, notes_of
from tests.tunes.book_by_number import book_by_number


def bar_of(names, fifths=-1, chords=(), **more):
    """A bar of 4/4 in equal notes; "~C4" comes from a tie, "C4~" goes into one."""
    length = Fraction(4, len(names.split()))
    events = tuple(
        Note(
            onset=index * length,
            length=length,
            value=NoteValue(base=length),
            pitch=pitch(name.strip("~")),
            tied_from_previous=name.startswith("~"),
            tied_to_next=name.endswith("~"),
        )
        for index, name in enumerate(names.split())
    )
    return Bar(number="7", meter=Meter(), key=Key(fifths), length=Fraction(4), events=events, chords=chords, **more)


def passage_of(*bars, **more):
    return whole_tune(Score(title="Evening", reading=Reading.GUITAR, bars=bars, **more))


TUNE = passage_of(
    bar_of("F4 G4 A4 F4"), bar_of("Bb4 A4 G4 F4"), bar_of("C5 Bb4 A4 G4"), bar_of("A4 Bb4 C5 A4"), bar_of("G4 F4")
)  # fmt: skip


@cache
def passages():
    """A passage or two of every other shipped tune and of a line of each level."""
    scores = [written_out(open_entry(entry)) for entry in book_by_number()[::2]]
    scores += [line(level, seed=level.number) for level in LEVELS]
    return tuple(passage for score in scores for passage in passages_of(score)[:2])


def names_of(score):
    return [note.pitch.name for note in notes_of(score)]
