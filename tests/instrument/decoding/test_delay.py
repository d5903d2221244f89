"""How late an instrument tells of a note."""

import pytest

from game.instrument.decoding.delay import NO_DELAY, Delay, period_s


def test_two_periods_of_the_open_strings_are_the_published_delays():
    """Fonseca & Tavares 2020: E2 24.3, A2 18.2, D3 13.6, G3 10.2, B3 8.1, E4 6.1 ms."""
    published = {40: 24.3, 45: 18.2, 50: 13.6, 55: 10.2, 59: 8.1, 64: 6.1}
    for sounding, milliseconds in published.items():
        assert 2000 * period_s(sounding) == pytest.approx(milliseconds, abs=0.05)


def test_a4_has_440_periods_a_second_and_each_octave_twice_as_many():
    """ISO 16."""
    assert period_s(69) == pytest.approx(1 / 440)
    assert period_s(57) == pytest.approx(2 / 440)


def test_a_delay_is_a_constant_and_so_many_periods_of_the_pitch():
    assert Delay(constant_s=0.01, periods=3.0).of(57) == pytest.approx(0.01 + 6 / 440)
    assert NO_DELAY.of(40) == 0.0
