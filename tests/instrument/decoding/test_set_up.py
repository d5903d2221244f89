"""A guitar is set up by playing its open strings."""

import pytest

from game.errors import InstrumentError
from game.instrument.decoding.set_up import SetUp, found_strings, hear, pass_time
from game.instrument.decoding.stamped import StampedMessage
from tests.instrument.messages_of import bend, control, off, on
from tests.refusing import refusal

# Standard tuning from string 6 up (trade).
OPEN = (40, 45, 50, 55, 59, 64)
AGAIN = (*OPEN, OPEN[0])


def plucked(channels, soundings=AGAIN, every_s=1.0):
    """Each open string for half a second, one after another, from the lowest up and the lowest again."""
    messages = []
    for number, (channel, sounding) in enumerate(zip(channels, soundings, strict=True)):
        at_s = number * every_s
        messages += [on(at_s, sounding, channel=channel), off(at_s + 0.5, sounding, channel=channel)]
    return messages


def set_up(messages, state=None):
    state = state or SetUp()
    for at_s, message in messages:
        state = hear(state, StampedMessage(at_s, 0.0, message, "pickup"))
    return pass_time(state, messages[-1][0] + 2.0)


def test_channels_1_to_6_from_the_highest_string():
    state = set_up(plucked((6, 5, 4, 3, 2, 1, 6))).without_slide()
    assert state.done
    assert found_strings(state).channels == (1, 2, 3, 4, 5, 6)
    assert found_strings(state).tuning.name == "standard"


def test_channels_11_to_16_in_reverse():
    state = set_up(plucked((11, 12, 13, 14, 15, 16, 11))).without_slide()
    assert found_strings(state).channels == (16, 15, 14, 13, 12, 11)


def test_all_on_one_channel_reports_no_strings():
    state = set_up(plucked((3,) * 7))
    assert state.done
    assert found_strings(state).channels is None


def test_channels_given_in_turn_are_no_strings():
    """As MPE does: the lowest string comes on another channel the second time."""
    state = set_up(plucked((2, 3, 4, 5, 6, 7, 8)))
    assert found_strings(state).channels is None
    assert found_strings(state).is_mpe


def test_channels_given_in_turn_bend_by_48_semitones_until_the_device_says_otherwise():
    """MPE 1.0."""
    found = found_strings(set_up(plucked((2, 3, 4, 5, 6, 7, 8))))
    assert (found.bend_semitones, found.bend_is_known) == (48.0, False)


def test_mpe_that_says_so_is_not_taken_for_strings():
    """Registered parameter 6 on channel 1: MPE 1.0."""
    announced = [control(-0.2, 101, 0), control(-0.2, 100, 6), control(-0.2, 6, 15)]
    state = set_up([*announced, *plucked((2, 3, 4, 5, 6, 7, 2))])
    assert found_strings(state.without_slide()).is_mpe
    assert found_strings(state.without_slide()).channels is None


@pytest.mark.parametrize(
    ("open_strings", "name"),
    [
        ((38, 45, 50, 55, 59, 64), "drop-d"),
        ((38, 43, 48, 53, 57, 62), "whole-step-down"),
        ((39, 44, 49, 54, 58, 63), "half-step-down"),
        ((36, 43, 48, 53, 57, 62), "drop-c"),
        ((36, 43, 48, 53, 57, 63), "36 43 48 53 57 63"),
    ],
)
def test_the_tuning_is_found_by_pitch(open_strings, name):
    state = set_up(plucked((6, 5, 4, 3, 2, 1, 6), (*open_strings, open_strings[0]))).without_slide()
    assert found_strings(state).tuning.name == name
    assert found_strings(state).tuning.open_strings[::-1] == open_strings


def test_a_first_guess_an_octave_off_and_a_brushed_string_do_not_mislead():
    messages = plucked((6, 5, 4, 3, 2, 1, 6))
    dirt = [on(0.0, 52, channel=6), on(2.05, 57, velocity=30, channel=2), off(2.06, 57, channel=2)]
    state = set_up(sorted([*dirt, (0.03, messages[0][1]), *messages[1:]], key=lambda message: message[0]))
    assert found_strings(state.without_slide()).channels == (1, 2, 3, 4, 5, 6)


def test_two_strings_on_one_channel_are_asked_for_again():
    with refusal(InstrumentError, "strings 5 and 4 both came on channel 5"):
        found_strings(set_up(plucked((6, 5, 5, 3, 2, 1, 6))))


def test_strings_in_the_wrong_order_are_asked_for_again():
    with refusal(InstrumentError, "from the lowest to the highest"):
        found_strings(set_up(plucked((6, 5, 4, 3, 2, 1, 6), (40, 50, 45, 55, 59, 64, 40))).without_slide())


def test_a_set_up_that_is_not_over_finds_nothing():
    with refusal(InstrumentError, "not over"):
        found_strings(SetUp())


def test_the_range_a_device_sends_spares_the_slide():
    """RPN 0,0 with 12 semitones on channel 1: MIDI 1.0."""
    sent = [control(-0.2, 101, 0), control(-0.2, 100, 0), control(-0.2, 6, 12)]
    state = set_up([*sent, *plucked((6, 5, 4, 3, 2, 1, 6))])
    assert state.done
    assert (found_strings(state).bend_semitones, found_strings(state).bend_is_known) == (12, True)


@pytest.mark.parametrize("semitones", [2, 12, 24])
def test_a_slide_of_two_frets_tells_2_12_and_24_apart(semitones):
    state = set_up(plucked((6, 5, 4, 3, 2, 1, 6)))
    assert state.wants_slide
    full = min(8191, round(2 / semitones * 8192 * 1.04))
    slide = [on(10.0, 69), *(bend(10.0 + step / 50, full * step // 10) for step in range(1, 11))]
    state = set_up(slide, state)
    assert (found_strings(state).bend_semitones, found_strings(state).bend_is_known) == (semitones, True)


def test_a_slide_that_comes_as_notes_leaves_the_range_open():
    state = set_up(plucked((6, 5, 4, 3, 2, 1, 6)))
    state = set_up([on(10.0, 69), on(10.05, 70), on(10.1, 71)], state)
    assert state.done
    assert not found_strings(state).bend_is_known


def test_the_open_string_leaves_the_slide_out():
    state = set_up(plucked((6, 5, 4, 3, 2, 1, 6)))
    assert set_up([on(10.0, 64)], state).done


def test_a_string_can_be_asked_for_once_more():
    state = set_up(plucked((6, 5), OPEN[:2]))
    assert state.asked == 4
    assert state.back().asked == 5


def test_seven_strings_and_a_slide_take_less_than_20_seconds():
    messages = plucked((6, 5, 4, 3, 2, 1, 6), every_s=1.5)
    slide = [on(11.0, 69), bend(11.2, 8191)]
    assert set_up(slide, set_up(messages)).done
    assert slide[-1][0] + 2.0 < 20


# Trade: open strings from the lowest up.
OF_OTHER_NUMBERS = {
    "bass": (28, 33, 38, 43),
    "bass-five": (23, 28, 33, 38, 43),
    "seven-string": (35, 40, 45, 50, 55, 59, 64),
    "eight-string": (30, 35, 40, 45, 50, 55, 59, 64),
}


@pytest.mark.parametrize("name", OF_OTHER_NUMBERS)
def test_as_many_strings_are_asked_for_as_the_instrument_has(name):
    strings = OF_OTHER_NUMBERS[name]
    channels = tuple(range(len(strings), 0, -1))
    state = set_up(plucked((*channels, channels[0]), (*strings, strings[0])), SetUp(strings=len(strings)))
    found = found_strings(state.without_slide())
    assert found.channels == tuple(range(1, len(strings) + 1))
    assert found.tuning.name == name


def test_the_lowest_of_seven_strings_may_come_below_the_channels_of_the_others():
    """Some pickups keep channels 2 to 7 for six strings and give the seventh channel 1 (trade)."""
    strings = OF_OTHER_NUMBERS["seven-string"]
    state = set_up(plucked((1, 7, 6, 5, 4, 3, 2, 1), (*strings, strings[0])), SetUp(strings=7))
    assert found_strings(state.without_slide()).channels == (2, 3, 4, 5, 6, 7, 1)


def test_seven_strings_are_asked_for_in_their_order():
    state = SetUp(strings=7)
    asked = []
    strings = OF_OTHER_NUMBERS["seven-string"]
    for at_s, message in plucked((7, 6, 5, 4, 3, 2, 1, 7), (*strings, strings[0])):
        before = state.asked
        state = hear(state, StampedMessage(at_s, 0.0, message, "pickup"))
        if state.asked != before:
            asked.append(before)
    assert asked == [7, 6, 5, 4, 3, 2, 1, 7]


def test_behind_a_capo_the_tuning_is_that_of_the_strings_without_it():
    raised = tuple(sounding + 3 for sounding in OPEN)
    state = set_up(plucked((6, 5, 4, 3, 2, 1, 6), (*raised, raised[0]))).without_slide()
    assert found_strings(state, capo=3).tuning.name == "standard"
