"""The player's clock is a Kalman filter (R. E. Kalman, A New Approach to Linear Filtering and Prediction Problems,
1960) of two states: lean and rate. It is held here to the textbook's matrices.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.judging.following.follow_numbers import LEAN_NOISE_S2, RATE_NOISE, VARIANCE_S2
from game.judging.following.player_clock import AT_THE_START, PlayerClock, clock_at

GAPS_S = st.floats(0.0, 5.0)
OFFSETS_S = st.floats(-2.0, 2.0)
NOTES = st.lists(st.tuples(GAPS_S, OFFSETS_S, st.sampled_from([1.0, 4.0])), max_size=20)
CLOSE = {"rel": 1e-6, "abs": 1e-12}


def state(clock: PlayerClock) -> tuple[np.ndarray, np.ndarray]:
    """The mean and the covariance."""
    lean_s, rate, a, b, c = clock
    return np.array([lean_s, rate]), np.array([[a, b], [b, c]])


def predicted(mean: np.ndarray, covariance: np.ndarray, d: float) -> tuple[np.ndarray, np.ndarray]:
    """F x and F P F' + Q, where the rate is a random walk in continuous time, the lean its integral, with a walk of its
    own beside.
    """
    step = np.array([[1.0, d], [0.0, 1.0]])
    of_rate = RATE_NOISE * np.array([[d**3 / 3, d**2 / 2], [d**2 / 2, d]])
    of_lean = LEAN_NOISE_S2 * np.array([[d, 0.0], [0.0, 0.0]])
    return step @ mean, step @ covariance @ step.T + of_rate + of_lean


def updated(mean: np.ndarray, covariance: np.ndarray, off_s: float, noise: float) -> tuple[np.ndarray, np.ndarray]:
    """Joseph's form of the update, the spread of the note widened as by Student's distribution of two degrees of
    freedom: (2 + z²) / (2 + 1).
    """
    sees = np.array([[1.0, 0.0]])
    innovation = off_s - float((sees @ mean)[0])
    z2 = innovation**2 / (float((sees @ covariance @ sees.T)[0, 0]) + VARIANCE_S2)
    spread = VARIANCE_S2 * noise * (2 + z2) / (2 + 1)
    gain = covariance @ sees.T / (sees @ covariance @ sees.T + spread)
    rest = np.eye(2) - gain @ sees
    return mean + gain[:, 0] * innovation, rest @ covariance @ rest.T + gain @ gain.T * spread


def after(notes: list[tuple[float, float, float]]) -> PlayerClock:
    clock = AT_THE_START
    for d, off_s, noise in notes:
        clock = clock.moved(d).corrected(off_s, noise)
    return clock


@given(NOTES)
def test_it_is_the_filter_of_the_textbook_after_any_notes(notes: list[tuple[float, float, float]]):
    mean, covariance = state(AT_THE_START)
    for d, off_s, noise in notes:
        mean, covariance = updated(*predicted(mean, covariance, d), off_s, noise)
    ours, our_covariance = state(after(notes))
    assert ours == pytest.approx(mean, **CLOSE)
    assert our_covariance == pytest.approx(covariance, **CLOSE)


@given(NOTES, GAPS_S, GAPS_S)
def test_the_clock_goes_on_over_two_times_as_over_both_at_once(notes, first_s: float, second_s: float):
    clock = after(notes)
    assert clock.moved(first_s).moved(second_s) == pytest.approx(clock.moved(first_s + second_s), **CLOSE)


@given(NOTES, GAPS_S)
def test_the_variance_of_the_lean_later_is_told_without_moving_the_clock(notes, d: float):
    assert after(notes).variance_after(d) == pytest.approx(after(notes).moved(d).lean_variance, **CLOSE)


@given(NOTES, GAPS_S)
def test_what_is_known_of_lean_and_rate_stays_a_covariance(notes, d: float):
    _, covariance = state(after(notes).moved(d))
    assert min(np.linalg.eigvalsh(covariance)) > -1e-12


@given(NOTES, OFFSETS_S)
def test_a_note_never_makes_the_lean_less_certain(notes, off_s: float):
    clock = after(notes)
    assert clock.corrected(off_s).lean_variance <= clock.lean_variance


@given(NOTES, st.floats(-1.0, 1.0))
def test_a_surprise_is_counted_in_squared_deviations_of_lean_and_note(notes, off_s: float):
    mean, covariance = state(after(notes))
    expected = (off_s - mean[0]) ** 2 / (covariance[0, 0] + VARIANCE_S2)
    assert after(notes).surprise(off_s) == pytest.approx(expected, **CLOSE)


@pytest.mark.parametrize("share", [-0.03, 0.01, 0.03])
def test_a_steady_drift_is_learnt_within_some_notes(share: float):
    clock = AT_THE_START
    for n in range(40):
        clock = clock.moved(0.5 if n else 0.0).corrected(share * 0.5 * n)
    assert clock.rate == pytest.approx(share, rel=0.1)
    assert clock.lean_s == pytest.approx(share * 0.5 * 39, abs=0.003)


def test_a_note_far_off_moves_the_clock_less_than_one_a_little_off():
    """With Gauss's tails it would be pulled ten times as far."""
    clock = after([(0.5, 0.0, 1.0)] * 8).moved(0.5)
    near, far = clock.corrected(0.1).lean_s, clock.corrected(1.0).lean_s
    assert 0 < far < near < 0.1


def test_a_wrong_note_tells_less_of_the_clock_than_a_right_one():
    clock = after([(0.5, 0.0, 1.0)] * 8).moved(0.5)
    right, wrong = clock.corrected(0.05), clock.corrected(0.05, 4.0)
    assert 0 < wrong.lean_s < right.lean_s
    assert wrong.lean_variance > right.lean_variance


def test_a_clock_set_by_one_note_is_as_sure_as_one_note_is():
    clock = clock_at(-0.4, 0.02, 0.0003)
    assert clock == PlayerClock(-0.4, 0.02, VARIANCE_S2, 0.0, 0.0003)
    wide = PlayerClock(0.0, 0.02, 1e6, 0.0, 0.0003)
    assert clock.lean_variance == pytest.approx(float(updated(*state(wide), 0.0, 1.5)[1][0, 0]), rel=1e-5)
