"""Why a passage does not get on: what its last takes have in common. Pure.

The shares by which it is told are ours, after common practice of teaching: a tempo that is too fast shows in takes that
are clean below it, rhythm in right notes that come early or late, reading in wrong notes of one kind.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from statistics import median

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.monday_queries import NoteAmiss, StuckPassage
from game.practice_log.classes.need import PassageTake


class Trouble(Enum):
    """What a passage is stuck on: one of the causes of wrong notes, or something that no single note tells."""

    SIGNATURE = Cause.SIGNATURE.value
    ACCIDENTAL = Cause.ACCIDENTAL.value
    NEIGHBOUR = Cause.NEIGHBOUR.value
    LEDGER = Cause.LEDGER.value
    OCTAVE = Cause.OCTAVE.value
    THIRD = Cause.THIRD.value
    SLIP = Cause.SLIP.value
    UNKNOWN = Cause.UNKNOWN.value
    TIMING = "timing"
    """Right notes, early or late."""

    TEMPO = "tempo"
    """Clean up to a tempo, and not above it."""

    SAME_TEMPO = "same tempo"
    """Clean, and never faster."""

    ELSEWHERE = "elsewhere"
    """Right notes at another place on the neck than their home."""

    MISSED = "missed"
    """Notes that were left out."""


MOST_NOTES = 3
"""So many notes are named."""

_MOST_CLEAN, _FEWEST_CLEAN, _FEWEST_FAILED = 0.8, 2, 3
_FASTER = 0.8
"""Of the takes that failed so many were faster than clean ones are, where the tempo is to blame."""

_PLAIN_CAUSE = 0.4
"""Of the notes whose cause is known one cause must have so many to be the one that is named."""

_KINDS = {Verdict.OTHER_PLACE: Trouble.ELSEWHERE, Verdict.MISSED: Trouble.MISSED, Verdict.HINTED: Trouble.UNKNOWN}


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyStuck:
    """The trouble with a passage; its `notes` by their written names, the one with the most first; the tempo of the
    fastest clean take, that of the last take, and the one that is aimed at, each None for none.
    """

    trouble: Trouble
    notes: tuple[str, ...]
    clean_bpm: float | None
    last_bpm: float | None
    target_bpm: int | None


def why_stuck(passage: StuckPassage) -> WhyStuck:
    """What its last takes have in common."""
    trouble = _of_tempo(passage.takes) or _of_notes(passage.amiss)
    notes = Counter[str]()
    for note in passage.amiss:
        if trouble in (_trouble_of(note), None):
            notes[note.written] += note.times
    named = sorted(notes, key=lambda written: (-notes[written], written))[:MOST_NOTES]
    timed = [take.tempo_bpm for take in passage.takes if take.tempo_bpm]
    return WhyStuck(
        trouble=trouble or Trouble.UNKNOWN,
        notes=tuple(named),
        clean_bpm=passage.clean_bpm,
        last_bpm=timed[-1] if timed else None,
        target_bpm=passage.target_bpm,
    )


def _of_tempo(takes: Sequence[PassageTake]) -> Trouble | None:
    """Whether it is the tempo, by which takes were clean."""
    timed = [(take.tempo_bpm, take.is_clean) for take in takes if take.tempo_bpm]
    clean = [bpm for bpm, is_clean in timed if is_clean]
    failed = [bpm for bpm, is_clean in timed if not is_clean]
    if len(clean) < _FEWEST_CLEAN:
        return None
    if len(clean) >= _MOST_CLEAN * len(takes):
        return Trouble.SAME_TEMPO
    faster = sum(bpm > median(clean) for bpm in failed)
    return Trouble.TEMPO if len(failed) >= _FEWEST_FAILED and faster >= _FASTER * len(failed) else None


def _of_notes(amiss: Sequence[NoteAmiss]) -> Trouble | None:
    """What most of the notes that were not right have in common; None where it is nothing."""
    counts = Counter[Trouble]()
    for note in amiss:
        counts[_trouble_of(note)] += note.times
    if not counts:
        return None
    causes = {one: count for one, count in counts.items() if one not in _NO_CAUSE}
    wrong = sum(causes.values()) + counts[Trouble.UNKNOWN]
    others = [Trouble.TIMING, Trouble.ELSEWHERE, Trouble.MISSED]
    most = max(others, key=lambda one: counts[one])
    if counts[most] > wrong:
        return most
    named = max(causes, key=lambda one: causes[one], default=None)
    if named is None or causes[named] < _PLAIN_CAUSE * sum(causes.values()):
        return Trouble.UNKNOWN
    return named


_NO_CAUSE = frozenset((Trouble.UNKNOWN, Trouble.TIMING, Trouble.ELSEWHERE, Trouble.MISSED))


def _trouble_of(note: NoteAmiss) -> Trouble:
    if note.verdict in (Verdict.EARLY, Verdict.LATE):
        return Trouble.TIMING
    if note.verdict in _KINDS:
        return _KINDS[note.verdict]
    return Trouble(note.cause.value) if note.cause else Trouble.UNKNOWN
