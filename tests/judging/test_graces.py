"""Written grace notes are known, so that playing them is no note too many."""

from game.judging.graces import graces_before
from game.music.score import Reading
from game.music.written import written_notes
from tests.made import bar


def test_graces_are_found_by_the_note_they_lead_to() -> None:
    bars = (bar("G4 q, gA4 e, gC5 e, B4 q, r h"), bar("gF4 e, E4 w"))
    notes = written_notes(bars, Reading.GUITAR)
    assert graces_before(bars, notes, Reading.GUITAR) == {2: (57, 60), 3: (53,)}
