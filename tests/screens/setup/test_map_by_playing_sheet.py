"""Which part of a long neck a map is written on."""

import pytest

from game.screens.setup.map_by_playing_sheet import first_of_part, is_in_part


@pytest.mark.parametrize("frets", [12, 19, 22, 24, 30])
def test_every_fret_is_in_one_of_both_parts_and_the_upper_one_begins_no_lower(frets):
    for fret in range(frets + 1):
        assert is_in_part(fret, frets, upper=False) or is_in_part(fret, frets, upper=True)
    assert first_of_part(frets, upper=True) >= first_of_part(frets, upper=False)
