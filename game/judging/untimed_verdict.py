"""One written note and what was played for it: the verdict, without the clock."""

from collections.abc import Sequence

from game.instrument.decoding.played import PlayedNote
from game.judging.cause import cause_of, octave_off
from game.judging.expected import ExpectedNote
from game.judging.extra_notes import ARRIVAL_S, leads_to
from game.judging.unsure import told_apart
from game.judging.verdicts import NoteVerdict, Verdict


def untimed_verdict(
    expected: ExpectedNote, answers: Sequence[PlayedNote], *, asked_s: float | None, hinted: bool
) -> NoteVerdict:
    """The verdict of the first answer, later tries beside it. `answers` is not empty.

    `asked_s` is when the note was asked; the time to find runs from there to the first right pitch. Notes on the way to
    the right one on its string, within 200 ms each, are no answers of their own.

    Of what was heard unsurely nobody knows whether it was right, so the first sure answer decides where there is one.
    It does not where something else than its own right pitch, heard unsurely, came well before it: that may have been
    the first answer, right or wrong, and the note is `unsure`.
    """
    sure, doubtful = told_apart(answers)
    before = [note for note in doubtful if not sure or sure[0].started_s - note.started_s > ARRIVAL_S]
    if not sure or (before and any(note.sounding != expected.sounding for note in (*before, sure[0]))):
        return NoteVerdict(n=expected.n, verdict=Verdict.UNSURE, answers=tuple(answers))
    if before:
        asked_s = None
    answers = _arrived(expected, sure)
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


def _arrived(expected: ExpectedNote, answers: Sequence[PlayedNote]) -> Sequence[PlayedNote]:
    """The answers without those that only led to the first right one."""
    at = next((at for at, answer in enumerate(answers) if answer.sounding == expected.sounding), 0)
    start = at
    while start > 0 and leads_to(answers[start - 1], answers[start]):
        start -= 1
    return answers if start > 0 else answers[at:]


def verdict_of(expected: ExpectedNote, played: PlayedNote, *, hinted: bool) -> Verdict:
    """Pitch first, then place, then help. Without strings, or without a home, the place is not judged."""
    if played.sounding != expected.note.sounding:
        return Verdict.WRONG_PITCH
    place, home = played.place, expected.home
    # Field by field, for whole takes are judged in a few ms, and a comparison of places takes longer.
    if place is not None and home is not None:
        at_home = place.fret == home.place.fret and place.string == home.place.string
        if not at_home:
            return Verdict.OTHER_PLACE
    return Verdict.HINTED if hinted else Verdict.CLEAN
