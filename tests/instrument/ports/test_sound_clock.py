"""A stream is stamped by its samples: bursts, a card's own clock and lost samples change no stamp by more than a
little.
"""

from random import Random

import pytest

from game.instrument.ports.sound_clock import MOST_DRIFT, WINDOW_S, StreamClock, after_block

RATE = 48_000


def errors_of(blocks, *, taken_s, rate=RATE):
    """How far off, in seconds, each block's first sample is stamped: `blocks` are lengths, times of arrival, whether
    something was lost; `taken_s` when each block's first sample was taken.
    """
    clock, off = StreamClock(rate), []
    for (length, at_s, lost), truly_s in zip(blocks, taken_s, strict=True):
        first = clock.samples
        clock = after_block(clock, length, at_s, lost=lost)
        off.append(clock.taken_s(first) - truly_s)
    return off, clock


def stream(seconds, *, began_s=100.0, length=256, drift=0.0, late_s=lambda _: 0.0):
    """Blocks of a card whose clock goes faster by `drift`, each handed over so much late."""
    blocks, taken = [], []
    for n in range(round(seconds * RATE / length)):
        taken.append(began_s + n * length / RATE * (1 - drift))
        full_s = began_s + (n + 1) * length / RATE * (1 - drift)
        blocks.append((length, full_s + late_s(full_s), False))
    return blocks, taken


def test_blocks_that_arrive_when_they_are_full_are_stamped_as_they_were_taken():
    off, _ = errors_of(*stream(10)[:1], taken_s=stream(10)[1])
    assert max(map(abs, off)) < 1e-6


def test_bursts_of_258_ms_hold_their_stamps_from_the_first_burst_on():
    """As PulseAudio hands over what a loudspeaker plays; measured."""
    burst_s = 0.258
    blocks, taken = stream(20, late_s=lambda full_s: burst_s - (full_s - 100) % burst_s)
    off, _ = errors_of(blocks, taken_s=taken)
    settled = off[round(2 * burst_s * RATE / 256) :]
    assert max(settled) - min(settled) < 0.006
    assert 0 <= min(settled) < 0.006


def test_a_busy_computer_is_late_by_chance_and_stamps_are_not():
    rng = Random(4)
    blocks, taken = stream(30, late_s=lambda _: rng.expovariate(1 / 0.008))
    off, _ = errors_of(blocks, taken_s=taken)
    assert max(map(abs, off[200:])) < 0.002


@pytest.mark.parametrize("drift", [-200e-6, 50e-6, 200e-6])
def test_a_card_whose_clock_goes_wrong_is_followed(drift):
    """Ten minutes at 200 millionths come to 120 ms."""
    blocks, taken = stream(600, length=2048, drift=drift)
    off, _ = errors_of(blocks, taken_s=taken)
    assert max(map(abs, off)) < 2 * WINDOW_S * MOST_DRIFT


def test_lost_samples_that_are_told_of_are_made_up_for_at_once():
    blocks, taken = stream(4)
    later, taken_later = stream(4, began_s=104.5)
    first = later[0]
    off, clock = errors_of([*blocks, (first[0], first[1], True), *later[1:]], taken_s=taken + taken_later)
    assert max(map(abs, off)) < 1e-6
    assert clock.jumped == 0


def test_lost_samples_that_nobody_tells_of_are_made_up_for_within_two_windows():
    blocks, taken = stream(4)
    later, taken_later = stream(8, began_s=104.5)
    off, clock = errors_of(blocks + later, taken_s=taken + taken_later)
    assert max(map(abs, off[-round((8 - 2 * WINDOW_S - 0.1) * RATE / 256) :])) < 1e-6
    assert clock.jumped == 1


def test_a_system_that_calls_everything_lost_changes_nothing():
    blocks, taken = stream(10)
    off, _ = errors_of([(length, at_s, True) for length, at_s, _ in blocks], taken_s=taken)
    assert max(map(abs, off)) < 1e-6
