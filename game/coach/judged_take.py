"""From a judgement to what the coach hears of it."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple, Required, TypedDict, Unpack

from game.coach.events import PassageFacts, TakeResult
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Stage
from game.judging.expected import ExpectedNote
from game.judging.verdicts import NOT_ASKED, EventKind, NoteVerdict, Verdict

_CLEAN = (Verdict.CLEAN, Verdict.EARLY, Verdict.LATE)
_OFF_TIME = (Verdict.EARLY, Verdict.LATE)
_WRONG = (Verdict.WRONG_PITCH, Verdict.MISSED)


class JudgedNote(NamedTuple):
    """A note of a take, as far as the coach hears of it. `homed` where it has a home, `repeated` where it sounds like
    the note before; `find_ms` is the time to find it. A named tuple, because years of practice are read as such.
    """

    n: int
    verdict: Verdict
    homed: bool
    repeated: bool
    find_ms: float | None


class TakeFacts(TypedDict, total=False):
    """What a `TakeResult` tells besides its notes, under the same names."""

    passage: Required[PassageFacts]
    day: Required[int]
    stage: Required[Stage]
    tempo_bpm: float | None
    sighting: int
    heard: bool
    known_by_ear: bool
    self_marked: bool
    settling: bool
    minute: int | None
    told: tuple[Mark, ...]


def judged_notes(verdicts: Sequence[NoteVerdict], expected: Sequence[ExpectedNote]) -> tuple[JudgedNote, ...]:
    """The notes of a judged take. `expected` are those it was judged against, in the same order. Raises `ValueError`
    when they are not of one length.
    """
    repeated = {note.n for before, note in pairwise(expected) if note.sounding == before.sounding}
    return tuple(
        JudgedNote(verdict.n, verdict.verdict, note.home is not None, verdict.n in repeated, verdict.time_to_find_ms)
        for verdict, note in zip(verdicts, expected, strict=True)
    )


def take_result(notes: Sequence[JudgedNote], events: Sequence[EventKind], **take: Unpack[TakeFacts]) -> TakeResult:
    """The judged take as the coach counts it: as in the clean share, without notes that have no home
    or could not be told.

    `events` are what happened on the way, `take` is the rest of a `TakeResult`.
    """
    homed = [note for note in notes if note.homed]
    counted = [note for note in homed if note.verdict not in NOT_ASKED]
    return TakeResult(
        homes=len(counted),
        clean=sum(note.verdict in _CLEAN for note in counted),
        off_time=sum(note.verdict in _OFF_TIME for note in counted),
        unread=sum(note.verdict is Verdict.UNREAD for note in homed),
        unsure=sum(note.verdict is Verdict.UNSURE for note in homed),
        stops=events.count(EventKind.STOP),
        restarts=events.count(EventKind.RESTART),
        wrong_notes=frozenset(note.n for note in counted if note.verdict in _WRONG),
        other_place_notes=frozenset(note.n for note in counted if note.verdict is Verdict.OTHER_PLACE),
        find_times_s=find_times_s(notes),
        **take,
    )


def find_times_s(notes: Sequence[JudgedNote], numbers: CoachNumbers = NUMBERS) -> tuple[float, ...]:
    """Seconds to find each note, without those that tell nothing: repeated notes, pauses, notes found with help."""
    return tuple(
        note.find_ms / 1000
        for note in notes
        if note.find_ms is not None
        and not note.repeated
        and note.verdict is not Verdict.HINTED
        and note.find_ms / 1000 <= numbers.pause_s
    )
