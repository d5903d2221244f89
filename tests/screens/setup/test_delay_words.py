"""What is said while the delay is measured follows from where the measuring is."""

from dataclasses import replace

import pytest

from game.instrument.listening.click_delay import CLICKS, ClickDelay, DelayRefusal
from game.screens.setup.delay_words import DelayStage, DelayState

ASKED = DelayState(
    stage=DelayStage.ASKS_HOW,
    sounds=True,
    lowest_string=6,
    attempt=0,
    wavered=False,
    plucks=0,
    measured=None,
    played=None,
    kept_ms=40.0,
)


def refused(refusal):
    return ClickDelay(delay_s=None, spread_s=0.004, found=0, played=CLICKS, refused=refusal)


def test_who_has_no_sound_is_told_so_and_not_advised_to_turn_it_down():
    silent = replace(ASKED, sounds=False)
    assert (silent.words, silent.advice) == ("This computer sounds nothing now, so no delay can be measured.", "")
    assert ASKED.advice.startswith("Turn the sound down first.")


def test_whoever_holds_headphones_to_the_microphone_is_told_to_take_them_off_first():
    assert replace(ASKED, stage=DelayStage.ASKS_HEADPHONES).advice.startswith("Take them off your ears")


@pytest.mark.parametrize("refusal", DelayRefusal)
def test_every_refusal_is_said_in_a_sentence_of_its_own(refusal):
    state = replace(ASKED, stage=DelayStage.REFUSED, measured=refused(refusal))
    others = {replace(state, measured=refused(other)).words for other in DelayRefusal if other is not refusal}
    assert state.words.endswith((".", "?"))
    assert state.words not in others


def test_what_was_found_is_said_as_what_is_taken_out_from_then_on():
    over = replace(ASKED, stage=DelayStage.OVER)
    assert over.words == "The delay stays at 40 ms."
    measured = ClickDelay(delay_s=0.04, spread_s=0.001, found=CLICKS, played=CLICKS, refused=None)
    assert replace(over, measured=measured).words.startswith("Notes came 40 ms late")
    assert over.outcome == "40 ms taken out"
    assert ASKED.outcome == ""
