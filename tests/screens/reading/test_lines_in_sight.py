"""Lines of a still page are turned before they are needed, and never under the eyes."""

from itertools import pairwise
from random import Random

import pytest

from game.screens.reading.lines_in_sight import turned
from tests.sampling import how_many


def test_lines_that_all_fit_stay_where_they_are():
    assert turned((), 3, 2, 0, (0, 1)) == (0, 1)
    assert turned((0, 1, 2), 3, 3, 2, ()) == (0, 1, 2)


def test_at_the_last_bar_but_one_the_lines_that_were_left_are_replaced():
    assert turned((), 3, 8, 0, (0, 0)) == (0, 1, 2)
    assert turned((0, 1, 2), 3, 8, 2, (2, 2)) == (0, 1, 2)
    assert turned((0, 1, 2), 3, 8, 2, (2, 3)) == (3, 4, 2)
    assert turned((3, 4, 2), 3, 8, 2, (3, 3)) == (3, 4, 2)
    assert turned((3, 4, 2), 3, 8, 3, (3, 3)) == (3, 4, 5)


def test_the_line_just_left_is_in_sight_through_the_first_bar_of_the_next():
    """What is pencilled in its last bar comes when that has been left."""
    assert turned((3, 4, 2), 3, 8, 3, (3, 3), just_begun=True) == (3, 4, 2)
    assert turned((3, 4, 2), 3, 8, 3, (3, 3)) == (3, 4, 5)


def test_where_nothing_more_follows_what_was_left_stays():
    assert turned((0, 1, 2), 3, 4, 2, (2, 3)) == (3, 1, 2)
    assert turned((3, 1, 2), 3, 4, 3, (3,)) == (3, 1, 2)
    assert turned((), 3, 4, 3, (3,)) == (3, None, None)


def test_a_repeat_to_a_line_in_sight_turns_nothing_and_to_one_out_of_sight_brings_it():
    assert turned((0, 1, 2), 3, 8, 1, (0, 0)) == (0, 1, 2)
    assert turned((3, 4, 5), 3, 8, 4, (0, 0)) == (0, 4, 1)
    assert turned((0, 1, 2), 3, 8, 0, (0, 6)) == (0, 6, 7)


def test_one_row_shows_the_line_being_read():
    assert turned((), 1, 3, 0, (0, 1)) == (0,)
    assert turned((0,), 1, 3, 1, (1, 1)) == (1,)


def test_who_goes_back_finds_the_page_of_that_line():
    assert turned((3, 4, 5), 3, 8, 1, (1, 1)) == (0, 1, 2)


@pytest.mark.parametrize("seed", range(how_many(300, by_default=40)))
def test_the_line_being_read_never_moves_and_the_next_bar_is_in_sight(seed):
    """Bars of lines of any length, with jumps."""
    chance = Random(seed)
    rows, lines = chance.randint(2, 4), chance.randint(2, 9)
    bars = [line for line in range(lines) for _ in range(chance.randint(2, 4))]
    order = list(range(len(bars)))
    for _ in range(chance.randint(0, 3)):
        at, back = chance.randrange(1, len(order)), chance.randrange(len(bars))
        order[at:] = range(back, len(bars))
    shown = ()
    seen = []
    for place, bar in enumerate(order):
        ahead = [bars[one] for one in order[place + 1 : place + 3]]
        begun = bar == bars.index(bars[bar])
        shown = turned(shown, rows, lines, bars[bar], ahead, just_begun=begun)
        assert bars[bar] in shown
        assert not ahead or ahead[0] in shown
        seen.append((bars[bar], shown))
    for (line, before), (later, after) in pairwise(seen):
        if line == later:
            assert before.index(line) == after.index(line)
        elif later in before:
            assert before.index(later) == after.index(later)
