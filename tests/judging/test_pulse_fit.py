"""The player's own clock, fitted through what they played."""

import numpy as np
import pytest

from game.judging.pulse import FreeRows, PulseStep, PulseStepKind
from game.judging.pulse_fit import due_time, steady_stretches

ONSETS = [float(at) for at in range(12)]


def rows(times_s):
    return FreeRows(onsets=ONSETS, asked=[60] * 12, times_s=times_s, sounding=[60] * len(times_s), pitch_counts=True)


def stretch(*indices, quarter_s=0.5):
    return tuple(
        PulseStep(index=index, at=index, kind=PulseStepKind.IN_PULSE, offset_s=0.0, quarter_s=quarter_s)
        for index in indices
    )


def test_in_a_steady_pulse_every_note_is_due_when_the_others_say():
    """The note itself has no say: it may be as late as it likes."""
    times_s = [onset * 0.5 for onset in ONSETS]
    times_s[5] += 0.3
    due = due_time(stretch(*range(12)), rows(times_s), 5)
    assert due.due_s == pytest.approx(2.5)
    assert due.quarter_s == pytest.approx(0.5)


def test_the_line_is_the_weighted_least_squares_of_numpy():
    """Tricube weights (Cleveland 1979) over the eight nearest others, 1.2 times as wide as the farthest."""
    rng = np.random.default_rng(4)
    times_s = [onset * 0.5 + float(rng.normal(0, 0.02)) for onset in ONSETS]
    nearest = sorted((at for at in range(12) if at != 4), key=lambda at: abs(at - 4))[:8]
    reach = 1.2 * max(abs(at - 4) for at in nearest)
    weights = [(1 - (abs(at - 4) / reach) ** 3) ** 3 for at in nearest]
    slope, start = np.polyfit(nearest, [times_s[at] for at in nearest], 1, w=np.sqrt(weights))
    due = due_time(stretch(*range(12)), rows(times_s), 4)
    assert (due.due_s, due.quarter_s) == pytest.approx((start + 4 * slope, slope))


def test_with_too_few_others_the_tempo_of_the_search_serves():
    due = due_time(stretch(2, 3), rows([0.0, 0.0, 1.0, 1.6]), 2)
    assert (due.due_s, due.quarter_s) == pytest.approx((1.1, 0.5))
    alone = due_time(stretch(2), rows([0.0, 0.0, 1.0]), 2)
    assert alone.due_s == pytest.approx(1.0)


def test_a_slope_is_never_beyond_twice_or_half_the_tempo_of_the_search():
    wild = due_time(stretch(0, 1, 2, 3, 4), rows([0.0, 5.0, 10.0, 15.0, 20.0]), 2)
    assert wild.quarter_s == pytest.approx(1.0)


def test_stretches_begin_where_the_player_waited_stopped_or_jumped():
    kinds = [
        PulseStepKind.IN_PULSE,
        PulseStepKind.IN_PULSE,
        PulseStepKind.SHIFTED,
        PulseStepKind.IN_PULSE,
        PulseStepKind.STOPPED,
    ]
    steps = [PulseStep(index=i, at=i, kind=kind, offset_s=0.0, quarter_s=0.5) for i, kind in enumerate(kinds)]
    assert [[step.index for step in cut] for cut in steady_stretches(steps)] == [[0, 1], [2, 3], [4]]
    assert steady_stretches([]) == ()
