import numpy as np
import pytest

from game.instrument.listening.difference_function import estimate_of
from game.instrument.listening.old_note import combed, without_old_note
from game.instrument.listening.sample_history import SampleHistory
from game.instrument.listening.semitones import period_of
from tests.instrument.listening.plucked import RATE, plucked

PLUCK = round(0.3 * RATE)
FIRST = PLUCK + 200


def ringing_with(new):
    """A low string that rings on, and what is plucked beside it at 0.3 s; 40 ms of it have come."""
    sound = plucked(45, 0.5).astype(float)
    sound[PLUCK:] += new[: len(sound) - PLUCK]
    history = SampleHistory(RATE)
    history.add(sound[: PLUCK + round(0.04 * RATE)])
    return history


def cleaned(history, began=0):
    old = (began, period_of(45, RATE))
    return without_old_note(history, history.last(history.end - FIRST), pluck=PLUCK, old=old, rate=RATE)


def test_what_rings_is_taken_out_to_a_fiftieth_of_its_power():
    history = ringing_with(np.zeros(RATE))
    left = cleaned(history)
    assert np.var(left) < 0.02 * np.var(history.last(len(left)))


def test_the_new_note_is_left_and_has_its_pitch():
    assert estimate_of(cleaned(ringing_with(plucked(52, 0.5, level=0.1))), RATE).pitch == pytest.approx(52, abs=0.15)


def test_an_old_note_that_began_too_late_to_be_known_is_left():
    history = ringing_with(np.zeros(RATE))
    left = cleaned(history, began=PLUCK - 300)
    np.testing.assert_array_equal(left, history.last(len(left)))


def test_what_is_combed_of_a_period_has_nothing_of_it_left_however_it_is_damped():
    sound = plucked(45, 0.5)[:20_000].astype(float) * np.linspace(1, 0.2, 20_000)
    history = SampleHistory(RATE)
    history.add(sound)
    assert np.var(combed(history, 1500, period_of(45, RATE))) < 0.02 * np.var(sound[-1500:])


def test_what_is_combed_keeps_the_period_of_another_note():
    history = SampleHistory(RATE)
    history.add(plucked(45, 0.5)[:20_000] + plucked(52, 0.5)[:20_000].astype(float))
    assert estimate_of(combed(history, 1500, period_of(45, RATE)), RATE).pitch == pytest.approx(52, abs=0.15)
