"""Aligning timed takes: least cost, in order, the short cut no worse than a search of the whole."""

from collections.abc import Sequence
from random import Random

import pytest

from game.judging.alignment_timed import (
    EXTRA_COST,
    MISSED_COST,
    NO_ANSWER,
    WRONG_COST,
    TimedRows,
    align_timed,
    time_cost,
)
from tests.judging.made_takes import Errors, timed_rows


def cost_of(rows: TimedRows, pairs: Sequence[int]) -> float:
    """What an alignment costs in all."""
    answers = [answer_cost(rows, index, at) for index, at in enumerate(pairs) if at != NO_ANSWER]
    left_out, too_many = len(rows.due_s) - len(answers), len(rows.times_s) - len(answers)
    return sum(answers) + MISSED_COST * left_out + EXTRA_COST * too_many


def answer_cost(rows: TimedRows, index: int, at: int) -> float:
    wrong = rows.asked[index] != rows.sounding[at]
    return WRONG_COST * wrong + time_cost(rows.times_s[at] - rows.due_s[index])


def least_cost(rows: TimedRows, reach_s: float) -> float:
    """The least cost of all, by the plain table of dynamic programming (Needleman and Wunsch 1970): the reference."""
    above = [EXTRA_COST * at for at in range(len(rows.times_s) + 1)]
    for index, due_s in enumerate(rows.due_s):
        row = [above[0] + MISSED_COST]
        for at, at_s in enumerate(rows.times_s):
            cheapest = min(above[at + 1] + MISSED_COST, row[at] + EXTRA_COST)
            if abs(at_s - due_s) <= reach_s:
                cheapest = min(cheapest, above[at] + answer_cost(rows, index, at))
            row.append(cheapest)
        above = row
    return above[-1]


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("tempo_bpm", [70, 160, 238])
def test_the_short_cut_costs_no_more_than_aligning_the_whole_take(seed: int, tempo_bpm: float) -> None:
    errors = Errors(dropped=0.08, added=0.08, wrong=0.08, spread_s=0.04)
    take = timed_rows(seed, tempo_bpm=tempo_bpm, errors=errors)
    pairs = align_timed(take, bias_s=0.0, reach_s=0.6)
    assert cost_of(take, pairs) == pytest.approx(least_cost(take, reach_s=0.6))


@pytest.mark.parametrize("seed", range(4))
def test_answers_keep_the_order_and_no_note_answers_twice(seed: int) -> None:
    take = timed_rows(seed, tempo_bpm=200, errors=Errors(dropped=0.2, added=0.3, wrong=0.2, spread_s=0.04))
    answered = [at for at in align_timed(take, bias_s=0.0, reach_s=0.6) if at != NO_ANSWER]
    assert answered == sorted(set(answered))


def brute_force(take: TimedRows) -> float:
    """The least cost by trying every alignment: for a handful of notes."""

    def tried(index: int, after: int, pairs: list[int]) -> float:
        if index == len(take.due_s):
            return cost_of(take, pairs)
        ways = [NO_ANSWER, *range(after, len(take.times_s))]
        return min(tried(index + 1, after if at == NO_ANSWER else at + 1, [*pairs, at]) for at in ways)

    return tried(0, 0, [])


@pytest.mark.parametrize("seed", range(8))
def test_no_alignment_of_a_few_notes_costs_less(seed: int) -> None:
    rng = Random(seed)
    take = TimedRows(
        due_s=[0.0, 0.2, 0.4, 0.6, 0.8],
        asked=[rng.choice((60, 62, 64)) for _ in range(5)],
        times_s=sorted(rng.uniform(-0.1, 0.9) for _ in range(5)),
        sounding=[rng.choice((60, 62, 64)) for _ in range(5)],
    )
    least = pytest.approx(brute_force(take))
    assert least_cost(take, reach_s=3.0) == least
    assert cost_of(take, align_timed(take, bias_s=0.0, reach_s=3.0)) == least


def test_a_steady_bias_changes_no_answer() -> None:
    """Later by what the player is late by, and told so."""
    take = timed_rows(3, tempo_bpm=160, errors=Errors(spread_s=0.03))
    late = TimedRows(
        due_s=take.due_s, asked=take.asked, times_s=[at_s + 0.125 for at_s in take.times_s], sounding=take.sounding
    )
    assert align_timed(late, bias_s=0.125, reach_s=0.6) == align_timed(take, bias_s=0.0, reach_s=0.6)


def test_the_farther_off_the_dearer_up_to_two_seconds() -> None:
    costs = [time_cost(ms / 1000) for ms in range(0, 2000, 50)]
    assert costs == sorted(costs)
    assert time_cost(-0.1) == time_cost(0.1)
    assert time_cost(2.0) == time_cost(60.0)
