import numpy as np
import pytest

from game.instrument.listening.early_pitch import early_estimate, new_estimate
from tests.instrument.listening.plucked import RATE, plucked, tone


def test_the_thump_of_the_body_does_not_make_it_an_octave_too_low():
    """A note of 220 Hz over a thump of 110 Hz that is as loud."""
    sound = plucked(57, 0.1)[400:1800] + tone(45, 0.1)[400:1800] * np.exp(-np.arange(1400) / 1300)
    assert early_estimate(sound, RATE, 0.035).pitch == pytest.approx(57, abs=0.2)


def test_a_note_from_which_a_damped_string_is_taken_out_is_no_octave_too_low():
    """C4 taken out of an F3 that sounds alone leaves what repeats with F2."""
    sound = plucked(53, 0.1)[400:1800].astype(float)
    ghost = 0.5 * plucked(60, 0.4)[9000:10_400]
    estimate = new_estimate(sound, sound - ghost, sound, rate=RATE, age_s=0.04, old_pitch=60)
    assert estimate.pitch == pytest.approx(53, abs=0.2)


def test_two_notes_at_once_are_not_taken_for_a_lower_one():
    new, old = plucked(53, 0.1)[400:1800].astype(float), plucked(60, 0.4)[9000:10_400]
    estimate = new_estimate(new + old, new, new, rate=RATE, age_s=0.04, old_pitch=60)
    assert estimate.pitch == pytest.approx(53, abs=0.2)


def test_a_period_that_may_be_only_common_to_two_notes_is_not_clear():
    """F2, of which C4 and F3 are partials, unless it is there without the C4."""
    both = plucked(53, 0.1)[400:1800].astype(float) + plucked(60, 0.4)[9000:10_400]
    assert new_estimate(both, both, np.zeros(1400), rate=RATE, age_s=0.04, old_pitch=60).clarity < 0.7


def test_a_low_note_stays_one():
    assert early_estimate(plucked(45, 0.1)[400:1800], RATE, 0.035).pitch == pytest.approx(45, abs=0.2)
