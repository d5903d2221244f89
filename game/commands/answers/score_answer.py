"""The answer of `homefret score`, of which that of `line` is one too."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from game.commands.answers.kinds import Answer, Fifths, Fret, Meter, Ordinal, QuarterNotes, String, Written
from game.music.score import Reading


class ScoreNote(Answer, frozen=True, kw_only=True):
    """A note in order of play. `string` and `fret` are its home, null where the map has none."""

    n: Ordinal
    bar: Annotated[str, Meta(description="number as printed")]
    onset: QuarterNotes
    length: QuarterNotes
    written: Written
    sounding: Annotated[int, Meta(description="MIDI number")]
    string: String | None
    fret: Fret | None


class ScoreChange(Answer, frozen=True, kw_only=True):
    """Where key, metre or both change, on the page."""

    bar: str
    key_fifths: Fifths | UnsetType = UNSET
    meter: Meter | UnsetType = UNSET


class ScoreChord(Answer, frozen=True, kw_only=True):
    """A chord symbol, in order of play."""

    onset: QuarterNotes
    text: str


class ScoreAnswer(Answer, frozen=True, kw_only=True):
    """A tune note by note. `notes` are in order of play: repeats written out, tied notes joined, graces left out."""

    title: str
    composer: str
    part: str
    format: Literal["musicxml", "abc", "midi"]
    read: Reading
    octave: Annotated[str, Meta(description="how the octave was settled, one sentence")]
    key_fifths: Fifths
    meter: Meter
    changes: list[Annotated[ScoreChange, Meta(extra_json_schema={"minProperties": 2})]]
    pickup: Annotated[QuarterNotes | None, Meta(description="length of the pickup bar, null without one")]
    bars: Annotated[int, Meta(ge=1, le=1000, description="number of notated bars")]
    notes: Annotated[list[ScoreNote], Meta(min_length=1)]
    chords: list[ScoreChord]
    off_map: Annotated[list[Ordinal], Meta(description="n of the notes without a home")]
    order: (
        Annotated[str, Meta(description="bars in order of play, by their numbers as printed: 1-8, 1-6, 9-10")]
        | UnsetType
    ) = UNSET
    warnings: Annotated[list[str], Meta(description="what was left out, guessed or assumed, a sentence each")]
