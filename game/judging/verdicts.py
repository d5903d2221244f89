"""What was made of each written note, and the whole take's judgement.

Where several verdicts apply the order is: missed, wrong pitch, other place, hinted, early or late, clean.
Offsets are in ms, negative is early. Times to find are in ms.
"""

from collections import Counter
from dataclasses import dataclass
from enum import Enum
from statistics import median, pstdev

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote


class Verdict(Enum):
    """The word for one written note of a take."""

    CLEAN = "clean"
    WRONG_PITCH = "wrong pitch"
    OTHER_PLACE = "other place"
    EARLY = "early"
    LATE = "late"
    MISSED = "missed"
    HINTED = "hinted"
    UNREAD = "unread"


class Cause(Enum):
    """Why a pitch was wrong, where it can be told. Each has another cure."""

    SIGNATURE = "signature"
    ACCIDENTAL = "accidental"
    NEIGHBOUR = "neighbour"
    LEDGER = "ledger"
    OCTAVE = "octave"
    SLIP = "slip"
    UNKNOWN = "unknown"


class EventKind(Enum):
    """What happened in a take beside its notes.

    A skip goes on at a later note than the next without waiting for it to be due.
    """

    STOP = "stop"
    REPAIR = "repair"
    RESTART = "restart"
    SKIP = "skip"


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteVerdict:
    """One written note's verdict.

    `answers` are all notes played for it in order, the first decides; none when it was missed or unread.
    `offset_ms` is None in untimed takes; `time_to_find_ms` runs from the answer before (or from the start of the
    take) to the right pitch, None when that never came or there was no clock to start from.
    """

    n: int
    verdict: Verdict
    answers: tuple[PlayedNote, ...] = ()
    octave_off: bool = False
    cause: Cause | None = None
    offset_ms: float | None = None
    time_to_find_ms: float | None = None

    @property
    def first(self) -> PlayedNote | None:
        """The first answer."""
        return self.answers[0] if self.answers else None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeEvent:
    """A stop, a repair or a restart, at note `n` (None before the first), `time_ms` into the take."""

    kind: EventKind
    n: int | None
    time_ms: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """A whole take, judged: one verdict for each written note in order, and the played notes that answer nothing."""

    verdicts: tuple[NoteVerdict, ...]
    extra: tuple[PlayedNote, ...] = ()
    events: tuple[TakeEvent, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """A take in figures.

    `clean_share` is clean, early and late over all that have a home and were read (None when there is none such).
    `bias_ms` is the median offset, `spread_ms` its standard deviation, both None in untimed takes.
    """

    counts: dict[Verdict, int]
    clean_share: float | None
    bias_ms: float | None
    spread_ms: float | None
    kept_going: bool


COUNTS_AS_CLEAN = frozenset((Verdict.CLEAN, Verdict.EARLY, Verdict.LATE))
"""The right pitch at its home: being early or late is told apart."""


def summary_of(judgement: Judgement, expected: tuple[ExpectedNote, ...]) -> Summary:
    """The figures of a take. `expected` are the notes it was judged against, in the same order."""
    counts = Counter(verdict.verdict for verdict in judgement.verdicts)
    shared = [
        verdict.verdict
        for verdict, note in zip(judgement.verdicts, expected, strict=True)
        if note.home is not None and verdict.verdict is not Verdict.UNREAD
    ]
    clean = sum(verdict in COUNTS_AS_CLEAN for verdict in shared)
    offsets = [verdict.offset_ms for verdict in judgement.verdicts if verdict.offset_ms is not None]
    return Summary(
        counts={verdict: counts[verdict] for verdict in Verdict},
        clean_share=clean / len(shared) if shared else None,
        bias_ms=median(offsets) if offsets else None,
        spread_ms=pstdev(offsets) if offsets else None,
        kept_going=not judgement.events and not counts[Verdict.UNREAD],
    )
