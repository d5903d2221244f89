"""The words of a judgement."""

from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import NoteVerdict, Verdict


def test_the_first_answer_is_the_one_that_decides():
    notes = tuple(PlayedNote(started_s=at_s, sounding=60, place=None) for at_s in (1.0, 2.0))
    assert NoteVerdict(n=1, verdict=Verdict.CLEAN, answers=notes).first is notes[0]
    assert NoteVerdict(n=1, verdict=Verdict.MISSED).first is None
