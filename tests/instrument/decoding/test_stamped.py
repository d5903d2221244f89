"""Stamps that came late are put right by the driver's own times."""

from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.stamped import StampedMessage, corrected

ON = bytes((0x90, 60, 80))


def corrected_all(stamps_and_deltas):
    previous_s, stamps = None, []
    for at_s, delta_s in stamps_and_deltas:
        previous_s = corrected(previous_s, StampedMessage(at_s, delta_s, ON)).at_s
        stamps.append(previous_s)
    return stamps


def test_a_late_stamp_is_moved_back_to_the_drivers_time():
    first, late, next_ = corrected_all([(10.0, 0.0), (10.512, 0.5), (11.0, 0.5)])
    assert first == 10.0
    assert abs(late - 10.5) < 0.0002
    assert next_ == 11.0


def test_an_early_driver_time_is_not_believed_against_the_stamp():
    assert corrected_all([(10.0, 0.0), (10.4, 0.5)]) == [10.0, 10.4]


def test_a_driver_that_is_off_by_far_is_not_believed():
    assert corrected_all([(10.0, 0.0), (11.0, 0.5)]) == [10.0, 11.0]


def test_a_slow_driver_clock_does_not_drag_the_stamps_behind():
    """An hour at two notes a second, the driver's clock 100 millionths slow (trade: a poor quartz)."""
    true_s = [0.5 * n for n in range(7200)]
    stamps = corrected_all([(at_s, 0.5 * (1 - 100e-6) if n else 0.0) for n, at_s in enumerate(true_s)])
    assert max(abs(stamp - at_s) for stamp, at_s in zip(stamps, true_s, strict=True)) < 1e-9


@given(st.lists(st.tuples(st.floats(0, 1), st.floats(-1, 2)), max_size=40))
def test_stamps_stay_in_order_and_are_only_moved_back(gaps_and_deltas):
    at_s, rows = 0.0, []
    for gap_s, delta_s in gaps_and_deltas:
        at_s += gap_s
        rows.append((at_s, delta_s))
    stamps = corrected_all(rows)
    assert stamps == sorted(stamps)
    assert all(0 <= raw - stamp <= 0.05 + 1e-9 for (raw, _), stamp in zip(rows, stamps, strict=True))
