import numpy as np
import pytest

from game.instrument.listening.attack import bright_at_once, last_attack
from game.instrument.listening.sample_history import SampleHistory
from tests.instrument.listening.plucked import RATE, line


@pytest.mark.parametrize("pitch", [40, 52, 64, 76])
def test_a_pluck_is_stamped_within_two_thousandths_of_a_second(pitch):
    sound = line([(0.1, 45), (0.4, pitch)])
    history = SampleHistory(RATE)
    history.add(sound[: round(0.42 * RATE)])
    assert last_attack(history, RATE).at / RATE == pytest.approx(0.4, abs=0.002)


def test_a_louder_pluck_is_stronger():
    soft, loud = SampleHistory(RATE), SampleHistory(RATE)
    soft.add(line([(0.1, 50)], level=0.1)[: RATE // 8])
    loud.add(line([(0.1, 50)], level=0.3)[: RATE // 8])
    assert last_attack(loud, RATE).strength == pytest.approx(3 * last_attack(soft, RATE).strength, rel=0.01)


def test_a_string_that_is_damped_adds_nothing_and_a_pluck_beside_it_does():
    """The damping begins at 0.3 s, the pluck comes at 0.35 s."""
    history = SampleHistory(RATE)
    sound = line([(0.1, 45), (0.35, 52)], level=0.2).astype(float)
    damped = sound.copy()
    damped[round(0.3 * RATE) :] *= 0.5
    history.add(damped[: round(0.33 * RATE)])
    assert last_attack(history, RATE).adds_nothing
    plucked = SampleHistory(RATE)
    plucked.add(sound[: round(0.38 * RATE)])
    assert not last_attack(plucked, RATE).adds_nothing
    assert last_attack(plucked, RATE).is_loud


def opening(rise_s):
    """A tone of many partials at 110 Hz that grows from nothing within `rise_s`, from 0.1 s on."""
    time = np.arange(round(0.25 * RATE)) / RATE
    tone = sum(np.sin(2 * np.pi * 110 * number * time) / number for number in range(1, 20))
    return np.concatenate((np.zeros(round(0.1 * RATE)), 0.1 * tone * np.minimum(1, time / rise_s)))


def at_once(sound):
    history = SampleHistory(RATE)
    history.add(sound)
    return bright_at_once(history, RATE, round(0.1 * RATE))


@pytest.mark.parametrize("pitch", [40, 52, 64, 76])
def test_a_plucked_string_is_as_bright_at_once_as_it_ever_is(pitch):
    assert at_once(line([(0.1, pitch)])[: round(0.3 * RATE)]) > 0.95


@pytest.mark.parametrize("rise_s", [0.03, 0.06, 0.1])
def test_what_grows_over_more_than_two_hundredths_of_a_second_is_not_bright_at_once(rise_s):
    assert at_once(opening(rise_s)) < 0.75


def test_what_is_heard_too_briefly_is_taken_to_have_been_bright_at_once():
    assert at_once(opening(0.1)[: round(0.13 * RATE)]) == 1.0
