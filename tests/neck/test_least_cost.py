"""The least of a sum of costs, beside trying everything."""

from itertools import product
from random import Random

import pytest

from game.neck.least_cost import least_choices
from tests.sampling import how_many


def costs_of(choices, alone, paired):
    return sum(row[option] for row, option in zip(alone, choices, strict=True)) + sum(
        costs[choices[one]][choices[other]] for (one, other), costs in paired.items()
    )


def problem(seed):
    """Up to six things of up to five options, with few or many pairs, and costs that are often equal."""
    rng = Random(seed)
    sizes = [rng.randint(1, 5) for _ in range(rng.randint(0, 6))]
    highest = rng.choice((2, 8, 40))
    alone = [[rng.randint(0, highest) / 4 for _ in range(size)] for size in sizes]
    share = rng.random()
    paired = {
        (one, other): [[rng.randint(0, highest) / 4 for _ in range(sizes[other])] for _ in range(sizes[one])]
        for other in range(len(sizes))
        for one in range(other)
        if rng.random() < share
    }
    return alone, paired


@pytest.mark.parametrize("block", range(10))
def test_it_is_the_least_of_all_choices(block):
    for seed in range(how_many(100, by_default=20)):
        alone, paired = problem(100 * block + seed)
        least = min(costs_of(every, alone, paired) for every in product(*(range(len(row)) for row in alone)))
        assert costs_of(least_choices(alone, paired), alone, paired) == least


def test_of_options_that_cost_the_same_the_first_is_taken():
    assert least_choices([[1.0, 1.0], [0.0, 0.0, 0.0]], {(0, 1): [[2.0] * 3] * 2}) == (0, 0)


def test_nothing_to_choose_is_no_choice():
    assert least_choices([], {}) == ()
