"""What a take asks for."""

from game.judging.expected import expected_notes
from game.neck.neck_map import standard_map
from tests.made import passage

MAP = standard_map()


def test_each_written_note_has_its_home_on_the_map():
    line = passage("F4 q, G4 q, A4 h").notes
    expected = expected_notes(line, MAP)
    assert [note.n for note in expected] == [1, 2, 3]
    assert [note.sounding for note in expected] == [53, 55, 57]
    assert [note.home for note in expected] == [MAP.home_of(sounding) for sounding in (53, 55, 57)]


def test_a_note_the_map_does_not_reach_has_none():
    assert expected_notes(passage("E6 w").notes, MAP)[0].home is None
