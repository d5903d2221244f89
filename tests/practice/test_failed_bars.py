"""Bars are practised apart where it was they that failed."""

from dataclasses import replace
from random import Random

import pytest

from game.judging.verdicts import Verdict
from game.practice.failed_bars import failed_bars
from tests.practice.simulated_takes import LINE, Habits, any_habits, played_take
from tests.sampling import how_many


def with_wrong(*numbers, line=LINE, verdict=Verdict.WRONG_PITCH):
    take = played_take(Random(1), Habits(), line=line)
    told = [replace(one, verdict=verdict) if one.n in numbers else one for one in take.judgement.verdicts]
    return replace(take, judgement=replace(take.judgement, verdicts=tuple(told)))


def test_one_bar_or_two_in_a_row_and_the_fewest_that_hold_most_of_it():
    """The bars of the line begin with notes 1, 5, 10 and 15."""
    assert failed_bars(with_wrong(5, 6, 7)) == (1, 1)
    assert failed_bars(with_wrong(6, 7, 10, 12, verdict=Verdict.MISSED)) == (1, 2)
    assert failed_bars(with_wrong(1, 10, 11, 12, 13)) == (2, 2), "four of five"


def test_what_lies_everywhere_or_is_hardly_anything_is_no_bars():
    assert failed_bars(with_wrong(1, 6, 11, 16)) is None
    assert failed_bars(with_wrong(5)) is None
    assert failed_bars(with_wrong()) is None
    assert failed_bars(with_wrong(6, 7, verdict=Verdict.LATE)) is None, "late notes are right"


@pytest.mark.parametrize("seed", range(how_many(100, by_default=15)))
def test_whoever_plays_they_are_at_most_half_of_the_passage_and_most_of_what_was_wrong(seed):
    rng = Random(seed)
    take = played_take(rng, any_habits(rng, 16))
    bars = failed_bars(take)
    if bars is None:
        return
    assert 0 <= bars[0] <= bars[1] < 4
    assert bars[1] - bars[0] < 2
    bar_of = {note.n: note.note.heads[0].bar for note in take.expected}
    wrong = [one.n for one in take.judgement.verdicts if one.verdict in (Verdict.WRONG_PITCH, Verdict.MISSED)]
    assert sum(bars[0] <= bar_of[n] <= bars[1] for n in wrong) * 3 >= 2 * len(wrong)
