from dataclasses import replace

import pytest

from game.instrument.listening.attack import Attack
from game.instrument.listening.difference_function import Estimate
from game.instrument.listening.sureness import (
    Kept,
    Still,
    is_like_pluck,
    is_sure_pluck,
    is_sure_slur,
    kept,
    may_be_knock,
)

LOUD = Attack(0, 0.1, 3.0, 3.0)
FAINT = Attack(0, 0.1, 1.05, 1.3)
STRING = Still(0.99, 0.008, 0.008, 0.05)


@pytest.mark.parametrize(
    ("pluck", "clarity", "rings_already", "sure"),
    [
        (LOUD, 0.8, True, True),
        (FAINT, 0.97, False, True),
        (FAINT, 0.97, True, False),
        (FAINT, 0.85, False, False),
        (replace(FAINT, brighter=2.5), 0.85, False, True),
    ],
)
def test_a_pluck_that_adds_little_is_sure_only_where_its_pitch_is_clear_and_new(pluck, clarity, rings_already, sure):
    assert is_sure_pluck(pluck, Estimate(60, clarity), rings_already=rings_already) == sure


def test_a_slur_keeps_the_power_of_its_string():
    assert is_sure_slur(0.8, 1.0, is_mixed=False)
    assert not is_sure_slur(0.1, 1.0, is_mixed=False)
    assert not is_sure_slur(0.8, 1.0, is_mixed=True)


def test_a_string_that_keeps_its_pitch_is_sure_and_so_is_one_that_is_damped():
    assert kept(60, 0.01, STRING) is Kept.SURE
    assert kept(60, 0.01, Still(0.3, 0.0, 0.0001, 0.05)) is Kept.SURE


def test_what_goes_on_without_its_pitch_was_no_note():
    assert kept(60, 0.01, Still(0.5, 0.001, 0.008, 0.05)) is Kept.NO_NOTE


def test_what_wanders_and_a_low_note_that_is_gone_at_once_are_unsure():
    assert kept(60, 0.01, replace(STRING, wandered=0.5)) is Kept.UNSURE
    assert kept(42, 0.01, Still(0.9, 0.0001, 0.0001, 0.05)) is Kept.UNSURE


def test_only_what_is_low_may_be_a_knock():
    """A box of wood sounds between 80 and 150 Hz (mem)."""
    assert may_be_knock(43)
    assert not may_be_knock(60)


def test_what_was_bright_only_later_or_wanders_is_not_like_a_pluck():
    assert is_like_pluck(1.2, 0.05)
    assert not is_like_pluck(0.5, 0.1)
    assert not is_like_pluck(0.5, 0.0)
    assert not is_like_pluck(1.2, 0.5)


def test_a_soft_pluck_is_as_slow_as_a_voice_but_stands_still():
    assert is_like_pluck(0.5, 0.02)
