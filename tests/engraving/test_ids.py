"""Names of noteheads and rests inside notation."""

import pytest

from game.engraving.ids import head_of, note_id, rest_id
from game.music.written import HeadId


def test_ids_and_noteheads_are_opposites():
    assert head_of(note_id(HeadId(12, 3))) == HeadId(12, 3)
    assert head_of(rest_id(HeadId(12, 3))) is None


@pytest.mark.parametrize("xml_id", ["", "n3", "n-3-0", "x3-0", "n3-0b", "r3-0"])
def test_anything_else_is_no_notehead(xml_id):
    assert head_of(xml_id) is None
