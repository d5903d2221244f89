"""What holds for a channel besides its notes. Controllers and parameters: MIDI 1.0, MPE 1.0."""

import pytest

from game.instrument.decoding.channel import INITIAL_CHANNEL, Channel, announces_mpe, channel_after
from game.instrument.decoding.messages import ControlChange


def after(*changes, channel=1):
    state = INITIAL_CHANNEL
    for controller, setting in changes:
        state = channel_after(state, ControlChange(channel, controller, setting))
    return state


BEND_RANGE = ((101, 0), (100, 0))


def test_a_range_is_sent_in_semitones_and_cents():
    assert after(*BEND_RANGE, (6, 12)).range_semitones == 12
    assert after(*BEND_RANGE, (6, 12), (38, 50)).range_semitones == 12.5
    assert after(*BEND_RANGE, (6, 2), (38, 127)).range_semitones == 2.99


def test_a_range_of_nothing_is_none():
    assert after(*BEND_RANGE, (6, 0)).range_semitones is None


@pytest.mark.parametrize("chosen", [(), ((101, 0), (100, 1)), (*BEND_RANGE, (99, 1)), (*BEND_RANGE, (101, 127))])
def test_data_for_another_parameter_or_for_none_leave_the_range(chosen):
    """Registered parameter 1 is fine tuning; 98 and 99 choose parameters that are not registered; 127 chooses none."""
    assert after(*chosen, (6, 24)).range_semitones is None


def test_the_sustain_pedal_is_down_from_64_on():
    assert [after((64, setting)).pedal for setting in (0, 63, 64, 127)] == [False, False, True, True]


def test_what_one_change_says_the_next_leaves_alone():
    state = after(*BEND_RANGE, (6, 12), (64, 127), (101, 127), (100, 127))
    assert (state.range_semitones, state.pedal) == (12, True)


@pytest.mark.parametrize(("bend", "semitones"), [(0, 0.0), (-8192, -2.0), (4096, 1.0)])
def test_a_bend_is_measured_by_the_usual_range_where_none_was_sent(bend, semitones):
    assert Channel(bend=bend).bent_semitones(2.0) == semitones
    assert Channel(bend=bend, range_semitones=12).bent_semitones(2.0) == 6 * semitones


@pytest.mark.parametrize(
    ("channel", "setting", "announced"), [(1, 15, True), (16, 3, True), (1, 0, False), (2, 15, None)]
)
def test_mpe_is_announced_on_channel_1_or_16(channel, setting, announced):
    chosen = after((101, 0), (100, 6), channel=channel)
    assert announces_mpe(chosen, ControlChange(channel, 6, setting)) is announced


def test_nothing_else_announces_mpe():
    assert announces_mpe(INITIAL_CHANNEL, ControlChange(1, 6, 15)) is None
    assert announces_mpe(after((101, 0), (100, 6)), ControlChange(1, 38, 15)) is None


def test_a_range_goes_up_and_down_by_a_semitone_at_a_time():
    """Controllers 96 and 97, data increment and decrement: MIDI 1.0. That a step is a semitone is common practice."""
    assert after(*BEND_RANGE, *((96, 0),) * 10).range_semitones == 12
    assert after(*BEND_RANGE, (6, 24), *((97, 0),) * 12).range_semitones == 12
    assert after(*BEND_RANGE, (97, 0), (97, 0)).range_semitones is None
    assert after((96, 0)).range_semitones is None


def test_a_bend_keeps_what_holds_beside_it():
    state = after(*BEND_RANGE, (6, 12), (64, 127)).bent(100, 1.5)
    assert (state.bend, state.bent_s, state.range_semitones, state.pedal) == (100, 1.5, 12, True)
