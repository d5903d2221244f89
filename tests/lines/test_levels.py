"""The levels of fresh lines."""

import pytest

from game.errors import TuneError
from game.lines.levels import LEVELS, level_of
from tests.refusing import refusal


def test_levels_are_numbered_from_one_and_found_by_their_number():
    assert [level_of(number) for number in range(1, 9)] == list(LEVELS)


@pytest.mark.parametrize("number", [0, -1, 9])
def test_another_number_is_refused_with_the_range(number):
    with refusal(TuneError, f"there is no level {number}: choose 1"):
        level_of(number)
