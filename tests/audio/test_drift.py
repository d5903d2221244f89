"""What is made of the moments at which blocks were seen to begin."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.audio.drift import LARGEST_DRIFT, Lateness, correction, lateness_after

RATE = 44100
FRAME_S = 1 / 60


def watched(
    drift: float, blocks: int, *, block_s: float = 2.013, frame_s: float = FRAME_S, phase: float = 0.3
) -> Lateness:
    """A card that falls behind by `drift`, seen once a frame."""
    known = Lateness()
    for block in range(1, blocks + 1):
        stream_s = block * block_s
        truly_s = stream_s * (1 + drift)
        frames = (truly_s - phase * frame_s) // frame_s
        after_s = (frames + phase) * frame_s
        known = lateness_after(known, stream_s=stream_s, after_s=after_s, before_s=after_s + frame_s)
    return known


@given(
    drift=st.floats(-9e-4, 9e-4),
    blocks=st.integers(1, 200),
    phase=st.floats(0, 1),
    frame_s=st.sampled_from([1 / 30, 1 / 60, 1 / 144]),
)
def test_the_bounds_always_hold_the_cards_true_drift(drift: float, blocks: int, phase: float, frame_s: float):
    known = watched(drift, blocks, phase=phase, frame_s=frame_s)
    assert known.drifts[0] <= drift <= known.drifts[1]
    assert known.late[0] <= 0 <= known.late[1]
    assert known.keeps_time


@given(blocks=st.integers(1, 300), phase=st.floats(0, 1))
def test_a_card_that_keeps_our_time_is_never_corrected(blocks: int, phase: float):
    known = watched(0.0, blocks, phase=phase)
    due = round((blocks + 1) * 2.013 * RATE)
    assert correction(known, due_sample=due, sent_samples=due, rate=RATE, most_samples=882) == 0
    assert known.drift == 0.0


def test_a_slow_card_has_its_next_block_shortened_and_a_fast_one_lengthened():
    for drift, sign in ((2e-4, -1), (-2e-4, 1)):
        known = watched(drift, 30)
        due = round(31 * 2.013 * RATE)
        put_off = correction(known, due_sample=due, sent_samples=due, rate=RATE, most_samples=882)
        assert put_off * sign == round(0.004 * RATE), "12 ms off: a step of 4"


def test_no_clicks_are_moved_on_the_word_of_a_first_sight_or_two():
    known = lateness_after(Lateness(), stream_s=2.0, after_s=2.5, before_s=2.516)
    known = lateness_after(known, stream_s=4.0, after_s=4.5, before_s=4.516)
    assert correction(known, due_sample=6 * RATE, sent_samples=6 * RATE, rate=RATE, most_samples=882) == 0


def test_a_stall_is_known_after_three_blocks_that_agree_and_made_good_faster():
    known = watched(0.0, 10)
    for block in range(11, 15):
        at_s = block * 2.013 + 0.05
        known = lateness_after(known, stream_s=block * 2.013, after_s=at_s - 0.008, before_s=at_s + 0.008)
    due = round(15 * 2.013 * RATE)
    assert correction(known, due_sample=due, sent_samples=due, rate=RATE, most_samples=882) == -882


def test_one_late_frame_tells_nothing_and_spoils_nothing():
    before = watched(0.0, 10)
    after = lateness_after(before, stream_s=22.0, after_s=21.99, before_s=22.4)
    assert after.drifts == before.drifts
    assert after.keeps_time


@pytest.mark.parametrize("drift", [-0.9, -0.05, 0.05, 2.0])
def test_a_driver_off_by_more_than_a_thousandth_keeps_no_time_and_is_left_alone(drift: float):
    known = watched(drift, 20)
    assert not known.keeps_time
    due = round(21 * 2.013 * RATE)
    assert correction(known, due_sample=due, sent_samples=due, rate=RATE, most_samples=882) == 0


def test_a_card_that_hands_its_buffers_on_unsteadily_widens_the_bounds_without_breaking_them():
    known = Lateness()
    for block in range(1, 60):
        unsteady_s = 0.004 * ((block * 7) % 5 - 2)
        at_s = block * 2.013 + unsteady_s
        known = lateness_after(known, stream_s=block * 2.013, after_s=at_s - 0.002, before_s=at_s + 0.002)
    assert known.keeps_time
    assert known.drifts[0] - 1e-4 <= 0 <= known.drifts[1] + 1e-4


def test_bounds_only_ever_narrow_on_a_steady_card():
    widths = [known.drifts[1] - known.drifts[0] for known in (watched(1e-4, blocks) for blocks in range(1, 60))]
    assert all(after <= before for before, after in pairwise(widths))
    assert widths[0] <= 2 * LARGEST_DRIFT
    assert widths[-1] < 1e-4
