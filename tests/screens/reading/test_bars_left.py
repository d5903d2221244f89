"""Of bars that have been left what was wrong is pencilled, and nothing of the time."""

from types import SimpleNamespace

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.verdicts import NoteVerdict, Verdict
from game.screens.reading.bars_left import marks_of_left
from tests.practice.simulated_takes import LINE, MAP


def test_wrong_notes_have_their_marks_and_early_ones_none():
    first, second = expected_notes(LINE.notes, MAP)[:2]
    wrong = NoteVerdict(
        n=1, verdict=Verdict.WRONG_PITCH, answers=(PlayedNote(started_s=0.0, sounding=first.sounding + 1, place=None),)
    )
    early = NoteVerdict(n=2, verdict=Verdict.EARLY, offset_ms=-200.0)
    asked = []
    take = SimpleNamespace(to_pencil=lambda bars: asked.append(bars) or ((first, wrong), (second, early)))
    marks = list(marks_of_left(take, LINE, 1))
    assert asked == [1]
    assert {mark.head for mark in marks} == {first.note.heads[0]}
