"""What moves on a page that is signed, and for how long."""

import pytest

from game.screens.reading.signing_times import DATE_S, SIGNS_S, TURNS_S, SigningTimes


def test_page_date_and_signature_come_one_after_the_other():
    times = SigningTimes(10.0, signed_s=10.0)
    assert (times.turned(10.0), times.dated(10.0), times.signed(10.0)) == (0.0, 0.0, 0.0)
    assert times.turned(10.6) == pytest.approx(0.5)
    assert (times.turned(10.0 + TURNS_S), times.dated(10.0 + TURNS_S)) == pytest.approx((1.0, 0.0))
    assert times.signed(times.ready_s) == 0.0
    assert times.moving(times.ready_s + SIGNS_S / 2)
    assert not times.moving(10.01 + TURNS_S + DATE_S + SIGNS_S)


def test_unsigned_it_rests_once_it_is_dated():
    times = SigningTimes(10.0)
    assert times.moving(11.0)
    assert not times.moving(12.0)
    assert times.signed(99.0) == 0.0


def test_on_a_still_desk_the_end_is_there_at_once():
    times = SigningTimes(10.0, still=True, signed_s=10.0)
    assert (times.turned(10.0), times.dated(10.0), times.signed(10.0)) == (1.0, 1.0, 1.0)
    assert not times.moving(10.0)
