"""The `letters` stage: each written note is named, key signature included.

Enharmonic names are told apart and judged as written: F♯ is not G♭. A name is given by keys, or said aloud on the
guitar, where one note reveals the name and another confirms or denies; that is the player's own word.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from game.judging.verdicts import Cause, Verdict
from game.music.accidentals import AlteredBy
from game.music.names import Spelling, spelling_of
from game.music.pitch import STEPS
from game.music.written import WrittenNote


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedNote:
    """One written note named: `given` in order, the first decides. `self_marked` when it was the player's word."""

    n: int
    verdict: Verdict
    given: tuple[Spelling, ...] = ()
    cause: Cause | None = None
    time_to_find_ms: float | None = None
    self_marked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NamingTake:
    """A line of music being named. `at` is the index of the note asked for; `revealed` its name stands on the page."""

    notes: tuple[WrittenNote, ...]
    started_s: float
    at: int = 0
    asked_s: float = 0.0
    given: tuple[Spelling, ...] = ()
    revealed: bool = False
    named: tuple[NamedNote, ...] = ()

    @property
    def asked(self) -> WrittenNote | None:
        """The note to be named now."""
        return self.notes[self.at] if self.at < len(self.notes) else None


def begin_naming(notes: Sequence[WrittenNote], *, now_s: float) -> NamingTake:
    """A line to be named from its first note."""
    return NamingTake(notes=tuple(notes), started_s=now_s, asked_s=now_s)


def give_name(take: NamingTake, name: Spelling, *, now_s: float) -> tuple[NamingTake, NamedNote | None]:
    """Name the note asked for. A wrong name waits for another; None when nothing is asked any more."""
    asked = take.asked
    if asked is None:
        return take, None
    given = (*take.given, name)
    right = name == spelling_of(asked.pitch)
    result = NamedNote(
        n=asked.n,
        verdict=_verdict(asked, given, helped=take.revealed),
        given=given,
        cause=None if given[0] == spelling_of(asked.pitch) else naming_cause(asked, given[0]),
        time_to_find_ms=(now_s - take.asked_s) * 1000 if right else None,
    )
    return (_next(take, result, now_s) if right else replace(take, given=given)), result


def reveal_name(take: NamingTake) -> NamingTake:
    """Show the name of the note asked for; naming it after that is no evidence of knowing."""
    return replace(take, revealed=True) if take.asked else take


def confirm_name(take: NamingTake, *, said_right: bool, now_s: float) -> tuple[NamingTake, NamedNote | None]:
    """The player's own word on a name said aloud and then revealed. None unless a name was revealed."""
    asked = take.asked
    if asked is None or not take.revealed:
        return take, None
    result = NamedNote(
        n=asked.n,
        verdict=Verdict.CLEAN if said_right else Verdict.WRONG_PITCH,
        cause=None if said_right else Cause.UNKNOWN,
        self_marked=True,
    )
    return _next(take, result, now_s), result


def finish_naming(take: NamingTake) -> tuple[NamedNote, ...]:
    """One entry for each written note; those not reached are unread."""
    rest = (NamedNote(n=note.n, verdict=Verdict.UNREAD) for note in take.notes[take.at :])
    return (*take.named, *rest)


def naming_cause(asked: WrittenNote, given: Spelling) -> Cause:
    """Why a name was wrong, where it can be told."""
    if given.step == asked.pitch.step:
        if asked.shown.altered_by is AlteredBy.SIGNATURE and given.alter == 0:
            return Cause.SIGNATURE
        if asked.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER):
            return Cause.ACCIDENTAL
        return Cause.UNKNOWN
    distance = (STEPS.index(given.step) - STEPS.index(asked.pitch.step)) % 7
    return Cause.NEIGHBOUR if distance in (1, 6) else Cause.UNKNOWN


def _verdict(asked: WrittenNote, given: tuple[Spelling, ...], *, helped: bool) -> Verdict:
    if given[0] != spelling_of(asked.pitch):
        return Verdict.WRONG_PITCH
    return Verdict.HINTED if helped else Verdict.CLEAN


def _next(take: NamingTake, result: NamedNote, now_s: float) -> NamingTake:
    return replace(take, at=take.at + 1, asked_s=now_s, given=(), revealed=False, named=(*take.named, result))
