"""Scores made by hand for tests: "G4 q, A4 e. ~, r h" is a row of notes, values q h w e s with dots, ~ ties on."""

from fractions import Fraction

from game.music.keys import Key
from game.music.meter import Meter
from game.music.passage import Passage, whole_tune
from game.music.pitch import pitch
from game.music.score import Bar, Event, Note, NoteValue, Reading, Rest, Score

_VALUES = {"w": Fraction(4), "h": Fraction(2), "q": Fraction(1), "e": Fraction(1, 2), "s": Fraction(1, 4)}


def bar(row: str, *, number: str = "1", key: int = 0, meter: Meter | None = None, pickup: bool = False) -> Bar:
    """One bar from a row of notes; it is as long as what it holds."""
    events: list[Event] = []
    onset, tied = Fraction(0), False
    for item in row.split(","):
        name, value_name, *tie = item.split()
        value = NoteValue(base=_VALUES[value_name[0]], dots=value_name.count("."))
        if name == "r":
            events.append(Rest(onset=onset, length=value.length, value=value))
        elif name.startswith("g"):
            events.append(Note(onset=onset, length=Fraction(0), value=value, pitch=pitch(name[1:]), grace=True))
            continue
        else:
            tied_here = tied or name.startswith("~")
            events.append(
                Note(
                    onset=onset,
                    length=value.length,
                    value=value,
                    pitch=pitch(name.removeprefix("~")),
                    tied_to_next=bool(tie),
                    tied_from_previous=tied_here,
                )
            )
            tied = bool(tie)
        onset += value.length
    return Bar(
        number=number, meter=meter or Meter(4, 4), key=Key(key), length=onset, events=tuple(events), pickup=pickup
    )


def score(*rows: str, key: int = 0, reading: Reading = Reading.GUITAR, title: str = "The Ford at Low Water") -> Score:
    """A score with a bar for each row, numbered from 1. A note tied over the bar line is written "~G4" there."""
    bars = tuple(bar(row, number=str(index), key=key) for index, row in enumerate(rows, start=1))
    return Score(title=title, reading=reading, bars=bars)


def passage(*rows: str, key: int = 0, reading: Reading = Reading.GUITAR) -> Passage:
    """A score as one passage."""
    return whole_tune(score(*rows, key=key, reading=reading))
