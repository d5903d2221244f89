"""Blocks: a stream cut into pieces that join without a gap."""

from itertools import pairwise

import numpy as np
from hypothesis import example, given
from hypothesis import strategies as st

from game.audio.blocks import BLOCK_S, GUARD_S, Block, Strike, blocks_of, damping_samples, render

RATE = 1000
"""Low, so that a minute is soon rendered."""

RINGING = np.full(300, 8000, np.int16)


def strike(sample: int, *, left: float = 1.0, right: float = 1.0, damped: int | None = None) -> Strike:
    return Strike(sample=sample, wave=RINGING, left=left, right=right, damped_sample=damped)


def whole(*strikes: Strike, stop: int) -> np.ndarray:
    return render(Block(start=0, stop=stop, strikes=strikes), rate=RATE)


@given(samples=st.lists(st.integers(0, 30_000), max_size=30).map(sorted), end=st.integers(0, 40_000))
def test_the_blocks_joined_are_the_stream_in_one_piece_and_none_is_longer_than_two_lengths_and_the_guard(samples, end):
    strikes = [strike(sample) for sample in samples]
    blocks = list(blocks_of(strikes, rate=RATE, end_sample=end))
    stop = max([end, *(one.stop_sample(RATE) for one in strikes)])
    assert [0, *(block.stop for block in blocks)] == [*(block.start for block in blocks), stop]
    assert all(0 < block.stop - block.start <= (2 * BLOCK_S + GUARD_S) * RATE for block in blocks)
    joined = [render(block, rate=RATE) for block in blocks]
    assert np.array_equal(np.concatenate([np.zeros((0, 2), np.int16), *joined]), whole(*strikes, stop=stop))


@given(gaps=st.lists(st.integers(100, 5_000), min_size=5, max_size=40))
@example(gaps=[100, 1920, 100, 100, 1780, 2031])
def test_before_each_strike_that_follows_a_block_there_is_room_to_move_it(gaps):
    """Then a block may begin a guard earlier or later without cutting into the attack, after a long rest too."""
    samples = [sum(gaps[: index + 1]) for index in range(len(gaps))]
    blocks = list(blocks_of([strike(sample) for sample in samples], rate=RATE))
    for _, after in pairwise(blocks):
        begun = [one.sample for one in after.strikes if after.start <= one.sample < after.stop]
        assert all(sample - after.start >= round(GUARD_S * RATE) for sample in begun)


def test_the_ends_of_blocks_fall_everywhere_in_a_frame():
    """Seen once a frame, ends at one place of the frame would tell the same of the card's clock each time."""
    blocks = list(blocks_of([strike(sample) for sample in range(0, 400_000, 500)], rate=RATE))
    before_s = {(-block.stop % 500) / RATE for block in blocks[:-1]}
    assert min(before_s) <= GUARD_S + 0.001
    assert max(before_s) >= GUARD_S + 1 / 60 - 0.002
    assert len(before_s) > 12


def test_strikes_without_end_are_cut_as_they_are_asked_for():
    def for_ever():
        sample = 0
        while True:
            yield strike(sample)
            sample += 500

    blocks = blocks_of(for_ever(), rate=RATE)
    assert next(blocks).start == 0
    assert next(blocks).start > 0


def test_without_strikes_there_is_silence_up_to_the_end_or_nothing():
    assert list(blocks_of([], rate=RATE)) == []
    (block,) = blocks_of([], rate=RATE, end_sample=700)
    assert not render(block, rate=RATE).any()
    assert (block.start, block.stop) == (0, 700)


def test_a_block_begun_earlier_is_longer_by_silence_and_one_begun_later_is_cut_at_the_front():
    block = Block(start=1000, stop=1500, strikes=(strike(1100),))
    sound = render(block, rate=RATE)
    assert np.array_equal(render(block, rate=RATE, start=980), np.concatenate([np.zeros((20, 2), np.int16), sound]))
    assert np.array_equal(render(block, rate=RATE, start=1050), sound[50:])
    assert len(render(block, rate=RATE, start=1600)) == 0


def test_a_damped_strike_falls_silent_evenly_within_thirty_milliseconds():
    sound = whole(strike(0, damped=100), stop=200)[:, 0]
    assert set(sound[:100]) == {8000}
    assert list(sound[100:131]) == [round(8000 * (30 - at) / 30) for at in range(31)]
    assert not sound[130:].any()
    assert damping_samples(RATE) == 30


def test_sides_have_their_own_strength_and_what_adds_up_is_held_at_full_scale():
    left, right = whole(strike(0, left=0.5, right=0.25), stop=300)[7]
    assert (left, right) == (4000, 2000)
    assert whole(*[strike(0)] * 5, stop=300).max() == 32767
