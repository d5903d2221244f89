import numpy as np
import pytest

from game.instrument.listening.decimation import Decimation
from tests.instrument.listening.plucked import tone


@pytest.mark.parametrize(("rate", "working"), [(16_000, 16_000), (48_000, 48_000), (88_200, 44_100), (192_000, 48_000)])
def test_high_rates_are_brought_down_and_others_left(rate, working):
    assert Decimation(rate).working_rate == working


def test_what_a_guitar_has_passes_and_comes_late_by_what_is_said():
    decimation = Decimation(96_000)
    sound = tone(88, 0.1, rate=96_000)
    passed = decimation.feed(sound)
    late = round(decimation.delay_s * 48_000)
    np.testing.assert_allclose(passed[200:-100], sound[::2][200 - late : -100 - late], atol=1e-3)


def test_what_lies_above_half_the_new_rate_does_not_fold_down():
    above = np.sin(2 * np.pi * 30_000 * np.arange(9600) / 96_000)
    assert np.abs(Decimation(96_000).feed(above)[100:]).max() < 1e-3


def test_the_stream_may_be_cut_anywhere():
    sound = np.random.default_rng(1).standard_normal(2000)
    whole, cut = Decimation(192_000), Decimation(192_000)
    parts = [cut.feed(part) for part in np.split(sound, [1, 3, 400, 401, 1999])]
    np.testing.assert_allclose(np.concatenate(parts), whole.feed(sound), atol=1e-12)
