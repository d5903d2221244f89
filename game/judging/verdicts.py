"""What was made of each written note, and the whole take's judgement.

Where several verdicts apply the order is: unsure, missed, wrong pitch, other place, hinted, early or late, clean.
Offsets are in ms, negative is early. Times to find are in ms.
"""

from dataclasses import dataclass
from enum import Enum

from game.instrument.decoding.played import PlayedNote


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
    UNSURE = "unsure"
    """Something was heard there and could not be told, so the note counts neither for nor against its player."""

    # There is one of each, and years of notes are looked up by it: Python's own asks for the name each time.
    __hash__ = object.__hash__


class Cause(Enum):
    """Why a pitch was wrong, where it can be told. Each has another cure."""

    SIGNATURE = "signature"
    ACCIDENTAL = "accidental"
    NEIGHBOUR = "neighbour"
    LEDGER = "ledger"
    OCTAVE = "octave"
    THIRD = "third"
    SLIP = "slip"
    UNKNOWN = "unknown"


class EventKind(Enum):
    """What happened in a take beside its notes.

    A skip goes on at a later note than the next without waiting for it to be due. Who ran ahead or fell behind left
    the click by more than the tolerance of the beat, and stayed there for some notes; the notes are right all the same.
    """

    STOP = "stop"
    REPAIR = "repair"
    RESTART = "restart"
    SKIP = "skip"
    RAN_AHEAD = "ran ahead"
    FELL_BEHIND = "fell behind"


OF_PACE = frozenset((EventKind.RAN_AHEAD, EventKind.FELL_BEHIND))
"""What tells of the player's own pace: nobody stopped, went back or left anything out by it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteVerdict:
    """One written note's verdict.

    `answers` are all notes played for it in order, the first decides; none when it was missed or unread. Those of an
    `unsure` note may all be unsure.
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
    """What happened, at note `n` (None before the first), `time_ms` into the take."""

    kind: EventKind
    n: int | None
    time_ms: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """A whole take, judged: one verdict for each written note in order, and the played notes that answer nothing."""

    verdicts: tuple[NoteVerdict, ...]
    extra: tuple[PlayedNote, ...] = ()
    events: tuple[TakeEvent, ...] = ()


NOT_ASKED = frozenset((Verdict.UNREAD, Verdict.UNSURE))
"""What is no part of any share: the note was not read, or what was played for it could not be told."""

COUNTS_AS_CLEAN = frozenset((Verdict.CLEAN, Verdict.EARLY, Verdict.LATE))
"""The right pitch at its home: being early or late is told apart."""
