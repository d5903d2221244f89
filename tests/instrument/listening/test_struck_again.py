import numpy as np

from game.instrument.listening.semitones import period_of
from game.instrument.listening.struck_again import is_struck_again
from tests.instrument.listening.plucked import RATE, plucked

PERIOD = period_of(52, RATE)
BEFORE = plucked(52, 0.5)[15_000:16_400]
RINGING = plucked(52, 0.5)[17_000:18_400]
NOTHING = np.zeros(1400)


def test_a_string_struck_again_is_louder_or_brighter():
    assert is_struck_again(plucked(52, 0.5)[200:1600], NOTHING, BEFORE, PERIOD)


def test_a_soft_stroke_leaves_something_of_the_same_period():
    assert is_struck_again(RINGING, plucked(52, 0.5, level=0.1)[200:1600], BEFORE, PERIOD)


def test_a_knock_beside_a_ringing_string_is_no_stroke():
    knock = 0.2 * np.random.default_rng(1).standard_normal(1400) * np.exp(-np.arange(1400) / 100)
    assert not is_struck_again(RINGING + knock, knock, BEFORE, PERIOD)
