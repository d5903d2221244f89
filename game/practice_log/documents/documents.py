"""How the things in a log travel from copy to copy: a document each, one line of JSON.

A line says which `form` it has, its `kind`, and by which key its entry is told from all others: `device`, its own count
`sequence`, and `at`, the time of its clock in microseconds since 1970. What many takes share stands in each of them,
but for the notes asked, which come once, before the first take that asks them (`AskedNotes`, which is no entry).

Rows stand as columns: what is first in each belongs together. A line of a higher form, or of a kind that is not known
here, has a key all the same; it is kept as it is and passed on.
"""

from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from game.practice_log.documents.document_parts import (
    AnswerColumns,
    AskedRow,
    BarsAsked,
    DecisionMade,
    EventColumns,
    HelpColumns,
    MapUsed,
    NameColumns,
    NamedColumns,
    PlayedColumns,
    PlayedOnDevice,
    RevisedColumns,
    TakeTerms,
    VerdictColumns,
    rising,
)
from game.practice_log.documents.document_values import (
    OPENED,
    OVERRULED,
    TAKE,
    ClockUs,
    Count,
    DeviceUuid,
    Digest,
    FractionText,
    HeardWord,
    Key,
    Name,
    OutcomeWord,
    PlayerUuid,
    Rate,
    Sequence,
    StageWord,
    WholeTempo,
    WishWord,
    ZoneMinutes,
)

FORM = 3
"""Raised when something is added that older programs must not pass over. Of form 2 are judgements of a judge that has
words of its own (`game.judging.version`), of form 3 those of one that has more of them or that say of a note that it
could not be told, and takes of a guitar that was heard; all else is still of form 1, and older programs read it.
"""


class EntryKeyFields(msgspec.Struct, frozen=True, kw_only=True):
    """By what an entry is told from all others."""

    device: DeviceUuid
    sequence: Sequence
    at: ClockUs

    @property
    def key(self) -> tuple[str, int, int]:
        """Device, count and time of the clock."""
        return (self.device, self.sequence, self.at)


class _Line(EntryKeyFields, frozen=True, kw_only=True, tag_field="kind"):
    """An entry: `zone` is the player's, in minutes east of Greenwich, when it was recorded."""

    form: Literal[1, 2, 3]
    zone: ZoneMinutes
    player: PlayerUuid
    device_name: Name = ""


OfEntry = tuple[DeviceUuid, Sequence, ClockUs]
"""The key of another entry: of the take that was judged, or that the coach heard of."""


class AskedNotes(msgspec.Struct, frozen=True, kw_only=True, tag_field="kind", tag="asked"):
    """The notes that takes ask for, found again by their digest; `spans` are the bars: start, beats and unit."""

    form: Literal[1]
    digest: Digest
    spans: Annotated[
        list[tuple[FractionText, Annotated[int, Meta(ge=1, le=64)], Literal[1, 2, 4, 8, 16, 32, 64]]],
        Meta(max_length=100_000),
    ]
    rows: Annotated[list[AskedRow], Meta(max_length=100_000)]


class TakeLine(_Line, frozen=True, tag="take", omit_defaults=True):
    """A take. `tune` is the one that its bars are from, None where nobody knows. `i` numbers the played notes where
    they are not simply counted, because some were lost. `unsure` are the numbers of notes that came and could not be
    told, `unsure_revised` of revisions that did not make them sure, counted from 1.
    """

    bars: BarsAsked
    neck_map: MapUsed
    instrument: PlayedOnDevice
    terms: TakeTerms
    asked: Digest
    sighting: Count
    heard: bool
    known_by_ear: bool | None
    tune: Key | None = None
    sources: list[Name] = []
    played: PlayedColumns | None = None
    i: list[Count] | None = None
    unsure: list[Count] | None = None
    revised: RevisedColumns | None = None
    unsure_revised: list[Count] | None = None
    help: HelpColumns | None = None
    names: NameColumns | None = None

    def __post_init__(self) -> None:
        """Raises `ValueError` for notes that come from nowhere, or are numbered twice."""
        if self.played and max(self.played.source, default=-1) >= len(self.sources):
            raise ValueError("notes from a source that is not told")
        if self.i is not None and (len(self.i) != self.played_count or not rising(self.i)):
            raise ValueError("numbers of played notes that are none")

    @property
    def played_count(self) -> int:
        """How many notes were played."""
        return len(self.played.at) if self.played else 0


class JudgementLine(_Line, frozen=True, tag="judgement", omit_defaults=True):
    """A judgement of the take `of`. Without `answers` nobody says which notes were played."""

    of: OfEntry
    judge: Count
    outcome: OutcomeWord
    verdicts: VerdictColumns | None = None
    named: NamedColumns | None = None
    answers: AnswerColumns | None = None
    events: EventColumns | None = None


class CoachLine(_Line, frozen=True, tag="coach", omit_defaults=True):
    """What the coach heard, of the take `of` where it heard of one, and said."""

    heard: HeardWord
    passage: Key
    notes_per_beat: Rate
    usual_note_beats: Rate
    target_bpm: WholeTempo | None
    begin_at: StageWord | None = None
    wish: WishWord | None = None
    wish_bpm: WholeTempo | None = None
    of: OfEntry | None = None
    decision: DecisionMade | None = None

    def __post_init__(self) -> None:
        """Raises `ValueError` where what was heard is not told."""
        told = {OPENED: self.begin_at, OVERRULED: self.wish, TAKE: self.of}[self.heard]
        if told is None or (self.of is not None) != (self.heard == TAKE):
            raise ValueError("what the coach heard is not told")


class FactLine(_Line, frozen=True, tag="fact"):
    """Something that the player said, chose or met."""

    about: Annotated[str, Meta(min_length=1, max_length=100)]
    content: dict[str, Any]


Entry = TakeLine | JudgementLine | CoachLine | FactLine
Line = AskedNotes | Entry


class UnknownLine(EntryKeyFields, frozen=True, kw_only=True):
    """What is known of every line, of any form and kind."""

    form: Annotated[int, Meta(ge=1, le=1_000_000)]
    kind: Annotated[str, Meta(max_length=100)]
    player: PlayerUuid
    zone: ZoneMinutes = 0
    device_name: Name = ""
