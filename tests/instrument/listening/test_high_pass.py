import numpy as np
from scipy.signal import butter, lfilter

from game.instrument.listening.high_pass import HighPass


def test_it_is_the_butterworth_filter_of_second_order():
    """Beside SciPy's own design and recursion."""
    sound = np.random.default_rng(1).standard_normal(2560)
    ours = HighPass(68.0, 44_100, 256)
    passed = np.concatenate([ours.feed(block) for block in sound.reshape(-1, 256)])
    np.testing.assert_allclose(passed, lfilter(*butter(2, 68.0, "high", fs=44_100), sound), atol=1e-9)
