"""How long a note has been looked for."""

import pytest

from game.judging.untimed import HintStep
from game.practice.help_timer import HelpTimer


@pytest.mark.parametrize(
    ("after_s", "help_due"),
    [
        (0.0, HintStep.NONE),
        (4.99, HintStep.NONE),
        (5.0, HintStep.LETTER),
        (9.99, HintStep.LETTER),
        (10.0, HintStep.PLACE),
    ],
)
def test_the_letter_is_due_after_five_seconds_and_the_place_after_ten(after_s: float, help_due: HintStep):
    assert HelpTimer(100.0).due(100.0 + after_s) is help_due


def test_a_new_note_is_looked_for_from_when_it_is_asked():
    timer = HelpTimer(0.0)
    timer.ask(7.0)
    assert timer.due(11.9) is HintStep.NONE
    assert timer.due(12.0) is HintStep.LETTER


def test_time_in_which_the_instrument_is_away_is_left_out_and_told():
    timer = HelpTimer(0.0)
    timer.pause(4.0)
    timer.pause(30.0)
    assert timer.paused
    assert timer.due(1000.0) is HintStep.NONE
    assert timer.resume(64.0) == 60.0
    assert not timer.paused
    assert timer.due(64.9) is HintStep.NONE
    assert timer.due(65.0) is HintStep.LETTER


def test_going_on_without_a_pause_leaves_nothing_out():
    assert HelpTimer(0.0).resume(9.0) == 0.0
