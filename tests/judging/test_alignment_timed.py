"""Aligning timed takes: least cost, in order, the short cut no worse than the whole search."""

from random import Random

import pytest

from game.judging.alignment_timed import NOBODY, Heard, cost_of, paired, paired_whole
from game.judging.leaning import lean_of
from game.judging.tolerance import timed_grid
from tests.judging.made_takes import Errors, made_take, random_line


def heard(seed: int, *, tempo_bpm: float, errors: Errors, count: int = 120) -> Heard:
    rng = Random(seed)
    line = random_line(count, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=tempo_bpm)
    take = made_take(line, grid, errors, rng)
    return Heard(
        due_s=grid.onsets_s,
        asked=[note.sounding for note in line],
        times_s=[note.started_s for note in take.played],
        sounding=[note.sounding for note in take.played],
    )


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("tempo_bpm", [70, 160, 238])
def test_the_short_cut_costs_no_more_than_aligning_the_whole_take(seed: int, tempo_bpm: float) -> None:
    errors = Errors(dropped=0.08, added=0.08, wrong=0.08, spread_s=0.04)
    take = heard(seed, tempo_bpm=tempo_bpm, errors=errors)
    short = cost_of(take, paired(take, lean_s=0.0, reach_s=0.6), lean_s=0.0)
    assert short == pytest.approx(cost_of(take, paired_whole(take, lean_s=0.0, reach_s=0.6), lean_s=0.0))


@pytest.mark.parametrize("seed", range(4))
def test_answers_keep_the_order_and_no_note_answers_twice(seed: int) -> None:
    take = heard(seed, tempo_bpm=200, errors=Errors(dropped=0.2, added=0.3, wrong=0.2, spread_s=0.04))
    answered = [at for at in paired(take, lean_s=0.0, reach_s=0.6) if at != NOBODY]
    assert answered == sorted(set(answered))


def brute_force(take: Heard) -> float:
    """The least cost by trying every alignment: for a handful of notes."""

    def tried(index: int, after: int, pairs: list[int]) -> float:
        if index == len(take.due_s):
            return cost_of(take, pairs, lean_s=0.0)
        ways = [NOBODY, *range(after, len(take.times_s))]
        return min(tried(index + 1, after if at == NOBODY else at + 1, [*pairs, at]) for at in ways)

    return tried(0, 0, [])


@pytest.mark.parametrize("seed", range(8))
def test_no_alignment_of_a_few_notes_costs_less(seed: int) -> None:
    rng = Random(seed)
    take = Heard(
        due_s=[0.0, 0.2, 0.4, 0.6, 0.8],
        asked=[rng.choice((60, 62, 64)) for _ in range(5)],
        times_s=sorted(rng.uniform(-0.1, 0.9) for _ in range(5)),
        sounding=[rng.choice((60, 62, 64)) for _ in range(5)],
    )
    found = cost_of(take, paired_whole(take, lean_s=0.0, reach_s=3.0), lean_s=0.0)
    assert found == pytest.approx(brute_force(take))


@pytest.mark.parametrize("bias_s", [-0.25, -0.06, 0.0, 0.06, 0.25])
def test_the_lean_of_a_player_is_found_among_errors(bias_s: float) -> None:
    take = heard(3, tempo_bpm=120, errors=Errors(bias_s=bias_s, spread_s=0.03))
    assert lean_of(take, limit_s=0.4) == pytest.approx(bias_s, abs=0.012)
