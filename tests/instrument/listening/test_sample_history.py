import numpy as np

from game.instrument.listening.sample_history import SampleHistory


def test_samples_are_found_by_their_number_however_long_the_stream():
    history = SampleHistory(100)
    for first in range(0, 5000, 30):
        history.add(np.arange(first, first + 30, dtype=float))
    assert history.end == 5010
    assert history.between(4920, 4930).tolist() == list(range(4920, 4930))
    assert history.last(3).tolist() == [5007, 5008, 5009]


def test_what_is_not_held_any_more_or_not_yet_is_left_out():
    history = SampleHistory(10)
    history.add(np.arange(8, dtype=float))
    history.add(np.arange(8, 16, dtype=float))
    assert history.between(0, 8).tolist() == [6, 7]
    assert history.between(14, 99).tolist() == [14, 15]


def test_before_the_first_sample_there_is_silence():
    history = SampleHistory(10)
    history.add(np.ones(2))
    assert history.last(4).tolist() == [0, 0, 1, 1]
