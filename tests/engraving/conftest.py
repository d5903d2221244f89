"""Bars written in a short hand, so that a test shows its music.

A bar is tokens `NAME:length`, length in quarter notes as printed, with a dot for each dot: `F#4:1/2.` Ties
are `~` behind the first and before the second head; `R` is a rest, `W` a rest for the whole bar; `(3` and `)`
enclose a triplet; a `g` before the name makes a grace note.
"""

import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")

from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import NO_MARKS, Bar, BarMarks, Event, Note, NoteValue, Rest, Tuplet


def _bar(
    text: str,
    meter: str = "4/4",
    fifths: int = 0,
    *,
    number: str = "1",
    chords: tuple[ChordSymbol, ...] = (),
    marks: BarMarks = NO_MARKS,
    pickup: bool = False,
) -> Bar:
    beats, unit = (int(part) for part in meter.split("/"))
    metre = Meter(beats, unit)
    onset = Fraction(0)
    events: list[Event] = []
    tuplet: Tuplet | None = None
    for token in text.split():
        if token == "(3":
            tuplet = Tuplet(actual=3, normal=2, starts=True)
        elif token == ")":
            last = events[-1]
            assert last.value.tuplet
            events[-1] = replace(last, value=replace(last.value, tuplet=replace(last.value.tuplet, stops=True)))
            tuplet = None
        else:
            events.append(_event(token, onset, tuplet, metre))
            onset += events[-1].length
            tuplet = replace(tuplet, starts=False) if tuplet else None
    return Bar(
        number=number,
        meter=metre,
        key=Key(fifths),
        length=onset,
        events=tuple(events),
        chords=chords,
        marks=marks,
        pickup=pickup,
    )


def _event(token: str, onset: Fraction, tuplet: Tuplet | None, meter: Meter) -> Event:
    name, length = token.strip("~").split(":")
    value = NoteValue(base=Fraction(length.rstrip(".")), dots=length.count("."), tuplet=tuplet)
    if name == "W":
        whole = NoteValue(base=Fraction(4))
        return Rest(onset=onset, length=meter.bar_length, value=whole, whole_bar=True)
    if name == "R":
        return Rest(onset=onset, length=value.length, value=value)
    return Note(
        onset=onset,
        length=Fraction(0) if name[0] == "g" else value.length,
        value=value,
        pitch=pitch(name.removeprefix("g")),
        tied_to_next=token.endswith("~"),
        tied_from_previous=token.startswith("~"),
        grace=name[0] == "g",
    )


@pytest.fixture(scope="session")
def bar() -> Callable[..., Bar]:
    """Makes a bar from the short hand above."""
    return _bar


@pytest.fixture(scope="session")
def page(bar: Callable[..., Bar]) -> tuple[Bar, ...]:
    """Ten bars with everything a lead sheet brings: pickup, chromatics, ties, triplets, changes, ledger
    lines.
    """
    chord = ChordSymbol(onset=Fraction(0), root="Bb", kind="dominant", text="Bb7", bass="")
    late = ChordSymbol(onset=Fraction(2), root="C", kind="minor-seventh", text="Cm7/G", bass="G")
    return (
        bar("C5:1", fifths=-1, number="0", pickup=True),
        bar("D5:1/2 E5:1/2 F5:1/2 F#5:1/2 G5:1 Bb4:1", fifths=-1, chords=(chord, late)),
        bar("A4:1. G4:1/2 F#4:1/2 G4:1/2 G#4:1/2 A4:1/2~", fifths=-1, number="2"),
        bar("~A4:1/2 Bb4:1/2 B4:1/2 C5:1/2 (3 C#5:1/2 D5:1/2 Eb5:1/2 ) E5:1", fifths=-1, number="3"),
        bar("F5:1/2. E5:1/4 Eb5:1/4 D5:1/4 Db5:1/4 C5:1/4 R:1/2 B4:1/2 Bb4:1", fifths=-1, number="4"),
        bar("W:4", fifths=-1, number="5"),
        bar("G3:1 A3:1 E6:1 D6:1", fifths=3, number="6"),
        bar("C5:1/2 D5:1/2 E5:1/2 F5:1 gA5:1/2 G5:1/2", "6/8", number="7"),
        bar("(3 C5:1 D5:1/2 ) (3 E5:1 F5:1 G5:1 ) C4:1", number="8"),
        bar("C##5:1/2 Bbb4:1/2 B4:1/2 C5:1/2 C5:2", number="9"),
    )


@pytest.fixture
def screen() -> Iterator[object]:
    """A screen of 1280 by 720 that nobody sees."""
    import pygame

    pygame.display.init()
    pygame.font.init()
    yield pygame.display.set_mode((1280, 720))
    pygame.display.quit()
