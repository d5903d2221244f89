"""One written note and what was played for it: the verdict, without the clock."""

from collections.abc import Sequence

from game.instrument.played import PlayedNote
from game.judging.cause import cause_of, octave_off
from game.judging.expected import ExpectedNote
from game.judging.verdicts import NoteVerdict, Verdict


def reckoned(
    expected: ExpectedNote, answers: Sequence[PlayedNote], *, asked_s: float | None, hinted: bool
) -> NoteVerdict:
    """The verdict of the first answer, later tries beside it. `answers` is not empty.

    `asked_s` is when the note was asked; the time to find runs from there to the first right pitch.
    """
    first = answers[0]
    found = next((answer for answer in answers if answer.sounding == expected.sounding), None)
    wrong = first.sounding != expected.sounding
    return NoteVerdict(
        n=expected.n,
        verdict=verdict_of(expected, first, hinted=hinted),
        answers=tuple(answers),
        octave_off=octave_off(expected, first.sounding),
        cause=cause_of(expected, first) if wrong else None,
        time_to_find_ms=None if found is None or asked_s is None else (found.started_s - asked_s) * 1000,
    )


def verdict_of(expected: ExpectedNote, played: PlayedNote, *, hinted: bool) -> Verdict:
    """Pitch first, then place, then help. Without strings, or without a home, the place is not judged."""
    if played.sounding != expected.sounding:
        return Verdict.WRONG_PITCH
    if played.place is not None and expected.home is not None and played.place != expected.home.place:
        return Verdict.OTHER_PLACE
    return Verdict.HINTED if hinted else Verdict.CLEAN
