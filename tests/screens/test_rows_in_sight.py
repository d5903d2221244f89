"""Which rows of a long list are in sight."""

import pytest

from game.screens.rows_in_sight import first_in_sight


@pytest.mark.parametrize(("chosen", "first"), [(0, 0), (2, 0), (5, 2), (50, 47), (98, 93), (99, 93)])
def test_the_chosen_row_stays_in_the_middle_but_at_the_ends(chosen, first):
    assert first_in_sight(chosen=chosen, shown=7, count=100) == first


def test_a_list_that_fits_is_shown_from_its_beginning():
    assert {first_in_sight(chosen=chosen, shown=7, count=5) for chosen in range(5)} == {0}
