"""The parts of documents (see `documents` beside it): rows as columns, and what several rows share."""

from operator import lt
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from game.practice_log.documents.document_values import (
    AlteredByWord,
    CauseWord,
    Count,
    EventWord,
    FractionText,
    Fret,
    Key,
    LetterWord,
    MarkWord,
    Midi,
    Ms,
    Name,
    OfferWord,
    PitchName,
    PlayedOnWord,
    PulseWord,
    ReachWord,
    ReadingWord,
    Small,
    StageWord,
    StepWord,
    String,
    TakeUs,
    Tempo,
    Text,
    VerdictWord,
    WholeTempo,
)


class DocumentPart(msgspec.Struct, frozen=True, kw_only=True):
    """A part of a document."""


class DocumentColumns(msgspec.Struct, kw_only=True, omit_defaults=True):
    """Rows as columns, all of one length. Raises `ValueError` where they are not."""

    def __post_init__(self) -> None:
        if len(set(map(len, msgspec.structs.astuple(self)))) > 1:
            raise ValueError("columns of several lengths")

    def __len__(self) -> int:
        return len(getattr(self, self.__struct_fields__[0]))


AskedRow = tuple[
    Count,  # n
    Name,  # bar, as printed
    FractionText,  # onset
    FractionText,  # length
    PitchName,
    Midi,  # sounding
    String | None,
    Fret | None,
    ReachWord | None,
    Small | None,  # sign
    bool,  # courtesy
    AlteredByWord,
    Small,  # signature
    list[tuple[Count, Count]],  # heads: bar and event
    list[Midi],  # graces
]


class BarsAsked(DocumentPart, frozen=True):
    """Which music."""

    passage_key: Key
    title: Name
    first: Name
    last: Name
    start: Count
    stop: Count


class MapUsed(DocumentPart, frozen=True):
    """Which map of the neck; `choices` are sounding pitch, string and fret."""

    position: Fret
    tuning: Name
    open_strings: Annotated[tuple[Midi, ...], Meta(min_length=1, max_length=24)]
    frets: Fret
    reading: ReadingWord
    choices: Annotated[tuple[tuple[Midi, String, Fret], ...], Meta(max_length=1000)]


class PlayedOnDevice(DocumentPart, frozen=True):
    """Which instrument."""

    name: Name
    kind: PlayedOnWord


class TakeTerms(DocumentPart, frozen=True):
    """What was asked and how it was judged: the terms of the log."""

    stage: StageWord
    pulse: PulseWord
    tempo_bpm: Tempo | None
    beat_length: FractionText
    swing: Annotated[float, Meta(ge=0, le=100)]
    waits: bool
    wants_home: bool
    pitch_counts: bool
    window_ms: Ms | None
    settling: bool
    self_marked: bool


class PlayedColumns(DocumentColumns):
    """Notes as they came, `at` counted from the take's time 0; `source` is an index into the take's `sources`."""

    at: list[TakeUs]
    sounding: list[Midi]
    string: list[String | None]
    fret: list[Fret | None]
    velocity: list[Midi]
    source: list[Count]


class RevisedColumns(DocumentColumns):
    """What played note `i` turned out to be; all None: nobody played it."""

    i: list[Count]
    at: list[TakeUs | None]
    arrived: list[TakeUs | None]
    sounding: list[Midi | None]
    string: list[String | None]
    fret: list[Fret | None]


class HelpColumns(DocumentColumns):
    """Help with note `n`."""

    n: list[Count]
    step: list[StepWord]
    at: list[TakeUs]


class NameColumns(DocumentColumns):
    """Names given for note `n`."""

    n: list[Count]
    step: list[LetterWord | None]
    alter_by: list[Small | None]
    said_right: list[bool | None]
    at: list[TakeUs]


class VerdictColumns(DocumentColumns):
    """What was made of note `n`."""

    n: list[Count]
    verdict: list[VerdictWord]
    cause: list[CauseWord | None]
    octave_off: list[bool]
    offset_ms: list[Ms | None]
    time_to_find_ms: list[Ms | None]

    def __post_init__(self) -> None:
        """Raises `ValueError` for a note with two verdicts."""
        super().__post_init__()
        if not rising(self.n):
            raise ValueError("verdicts out of order")


class NamedColumns(DocumentColumns):
    """What was made of the name of note `n`."""

    n: list[Count]
    verdict: list[VerdictWord]
    cause: list[CauseWord | None]
    time_to_find_ms: list[Ms | None]
    self_marked: list[bool]

    def __post_init__(self) -> None:
        """Raises `ValueError` for a note with two verdicts."""
        super().__post_init__()
        if not rising(self.n):
            raise ValueError("verdicts out of order")


class AnswerColumns(DocumentColumns):
    """Which played notes, `i`, answered note `n`, the first (`k`) of them first."""

    n: list[Count]
    k: list[Count]
    i: list[Count]
    sounding: list[Midi]

    def __post_init__(self) -> None:
        """Raises `ValueError` for two answers in one place."""
        super().__post_init__()
        # Mostly one answers each note: to compare pairs takes several times as long.
        places = self.n if self.k.count(1) == len(self.k) else list(zip(self.n, self.k, strict=True))
        if not rising(places):
            raise ValueError("answers out of order")


class EventColumns(DocumentColumns):
    """What happened beside the notes, in order."""

    kind: list[EventWord]
    n: list[Count | None]
    time_ms: list[Ms]


class DecisionMade(DocumentPart, frozen=True):
    """What the coach said. `to_review` are numbers of notes."""

    passage: Key
    offer: OfferWord
    stage: StageWord
    pulse: PulseWord
    tempo_bpm: WholeTempo | None
    reason: Text
    settling: bool
    earned: list[MarkWord]
    to_review: list[Count]


def rising(numbers: list[Any]) -> bool:
    """Whether each is above the one before."""
    return all(map(lt, numbers, numbers[1:]))
