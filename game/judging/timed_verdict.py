"""The rules of a timed take, and one answered note put into a verdict."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import cause_of, octave_off
from game.judging.expected import ExpectedNote
from game.judging.untimed_verdict import verdict_of
from game.judging.verdicts import NoteVerdict, Verdict

_MS = 1000.0
_RHYTHM = {False: Verdict.CLEAN, True: Verdict.HINTED}


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedRules:
    """What is asked of a timed take.

    `pitch_counts` is False in the stage `rhythm`: any pitch will do and places are not judged. `hinted` are
    numbers of notes that were helped. `graces` are the sounding pitches of written grace notes by the number
    of the note they lead to. `ended_s` is when the take was ended, None when that is to be told from the
    notes.
    """

    pitch_counts: bool = True
    hinted: frozenset[int] = frozenset()
    graces: Mapping[int, Sequence[int]] = field(default_factory=dict)
    ended_s: float | None = None


DEFAULT_RULES = TimedRules()


def timed_unsure(expected: ExpectedNote, notes: tuple[PlayedNote, ...]) -> NoteVerdict:
    """The verdict of a note for which only `notes` came, none of them heard surely: it has no offset either."""
    return NoteVerdict(n=expected.n, verdict=Verdict.UNSURE, answers=notes)


def timed_verdict(
    expected: ExpectedNote,
    notes: tuple[PlayedNote, ...],
    offset_s: float,
    in_time: bool,
    asked_s: float | None,
    rules: TimedRules,
) -> NoteVerdict:
    """The verdict of one answered note; `asked_s` is when the note before it was answered."""
    first, n = notes[0], expected.note.n
    word = verdict_of(expected, first, hinted=n in rules.hinted) if rules.pitch_counts else _RHYTHM[n in rules.hinted]
    if word is not Verdict.WRONG_PITCH:
        if word is Verdict.CLEAN and not in_time:
            word = Verdict.EARLY if offset_s < 0 else Verdict.LATE
        waited_ms = None if asked_s is None else (first.started_s - asked_s) * _MS
        return NoteVerdict(n=n, verdict=word, answers=notes, offset_ms=offset_s * _MS, time_to_find_ms=waited_ms)
    found = next((note for note in notes if note.sounding == expected.note.sounding), None)
    return NoteVerdict(
        n=n,
        verdict=word,
        answers=notes,
        octave_off=octave_off(expected, first.sounding),
        cause=cause_of(expected, first),
        offset_ms=offset_s * _MS,
        time_to_find_ms=None if found is None or asked_s is None else (found.started_s - asked_s) * _MS,
    )
