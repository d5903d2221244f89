"""Timed judging against an independent count, `mir_eval`."""

import pytest

from tests.judging.by_mir_eval import compared


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("bias_s", [-0.06, 0.0, 0.06])
@pytest.mark.parametrize("window_s", [0.05, 0.1])
def test_hits_and_pairs_are_those_of_mir_eval_where_no_second_candidate_lies_in_a_window(
    seed: int, bias_s: float, window_s: float
) -> None:
    found, line = compared(seed, bias_s=bias_s, window_s=window_s, count=150)
    assert found.plain > 0.9 * len(line)
    assert found.differing == ()
    assert found.nearest > 0.3 * len(line)
    assert found.unpaired == ()
    if found.plain == len(line):
        assert found.hits[0] == found.hits[1]
