"""Triplets that lie across a beat, as groups."""

from fractions import Fraction

import pytest

from game.music.triplet_groups import in_triplet_groups

THIRD, HALF = Fraction(1, 3), Fraction(1, 2)


def spans(*lengths, start=0) -> list[tuple[Fraction, Fraction]]:
    """Notes one after another."""
    made, at = [], Fraction(start)
    for length in lengths:
        made.append((at, at + length))
        at += length
    return made


@pytest.mark.parametrize(
    ("lengths", "start", "inside"),
    [
        ([2 * THIRD] * 3, 0, [True] * 3),
        ([THIRD] * 3, HALF, [True] * 3),
        ([2 * THIRD, THIRD, 1], 0, [True, True, False]),
        ([1, 2 * THIRD, 2 * THIRD, THIRD, THIRD, 1], 0, [False] + [True] * 4 + [False]),
        ([2 * THIRD, 2 * THIRD], 0, [False, False]),
        ([2 * THIRD, 1, THIRD], 0, [False] * 3),
        ([THIRD, THIRD, THIRD], THIRD, [False] * 3),
        ([1, HALF, HALF], 0, [False] * 3),
        ([], 0, []),
    ],
)
def test_a_group_begins_and_ends_on_a_plain_part_of_the_beat(lengths, start, inside):
    assert in_triplet_groups(spans(*lengths, start=start)) == inside


def test_a_gap_ends_a_group_that_is_then_none():
    with_gap = [(Fraction(0), 2 * THIRD), (Fraction(1), Fraction(4, 3)), (Fraction(4, 3), Fraction(2))]
    assert in_triplet_groups(with_gap) == [False, True, True]
