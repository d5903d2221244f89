"""The bias of a player is found among their errors, and nothing is made of chance."""

from random import Random

import pytest

from game.judging.alignment_timed import TimedRows
from game.judging.bias import estimated_bias_s
from tests.judging.made_takes import Errors, timed_rows


@pytest.mark.parametrize("bias_s", [-0.25, -0.06, 0.0, 0.06, 0.25])
def test_the_bias_of_a_player_is_found_among_errors(bias_s: float) -> None:
    take = timed_rows(3, tempo_bpm=120, errors=Errors(bias_s=bias_s, spread_s=0.03))
    assert estimated_bias_s(take, limit_s=0.4) == pytest.approx(bias_s, abs=0.012)


def test_a_bias_beyond_the_limit_is_not_looked_for() -> None:
    take = timed_rows(3, tempo_bpm=40, errors=Errors(bias_s=0.3, spread_s=0.01, added=0))
    assert estimated_bias_s(take, limit_s=0.2) == 0


def test_a_take_of_random_notes_has_no_bias() -> None:
    rng = Random(5)
    take = TimedRows(
        due_s=[at / 2 for at in range(60)],
        asked=[rng.randint(45, 72) for _ in range(60)],
        times_s=sorted(rng.uniform(0, 30) for _ in range(60)),
        sounding=[rng.randint(45, 72) for _ in range(60)],
    )
    assert estimated_bias_s(take, limit_s=0.4) == 0


def test_one_note_tells_nothing_and_two_do() -> None:
    one = TimedRows(due_s=[0.0], asked=[60], times_s=[0.1], sounding=[60])
    two = TimedRows(due_s=[0.0, 1.0], asked=[60, 62], times_s=[0.1, 1.1], sounding=[60, 62])
    assert estimated_bias_s(one, limit_s=0.4) == 0
    assert estimated_bias_s(two, limit_s=0.4) == pytest.approx(0.1)


def test_of_two_alike_the_nearer_one_wins() -> None:
    """Every note is there twice: 100 ms early and 300 ms late."""
    due_s = [float(at) for at in range(8)]
    times_s = sorted([at_s - 0.1 for at_s in due_s] + [at_s + 0.3 for at_s in due_s])
    take = TimedRows(due_s=due_s, asked=[60] * 8, times_s=times_s, sounding=[60] * 16)
    assert estimated_bias_s(take, limit_s=0.4) == pytest.approx(-0.1)
