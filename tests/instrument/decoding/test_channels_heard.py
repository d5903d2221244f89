"""Whether channels are strings, of a device that nobody set up. Strings sound E2 A2 D3 G3 B3 E4 (trade): 40 to 64."""

from game.instrument.decoding.channels_heard import SURE_AFTER, ChannelsHeard, with_message
from game.instrument.decoding.strings_setup import StringsSetup
from tests.instrument.messages_of import off, on


def heard(*messages):
    channels = ChannelsHeard()
    for _, message in messages:
        channels = with_message(channels, message, StringsSetup())
    return channels


def test_middle_c_on_the_channel_of_the_first_string_is_no_note_of_that_string():
    assert heard(on(0.0, 60)).are_no_strings


def test_what_the_first_string_can_sound_tells_nothing_and_drop_tunings_neither():
    """DADGAD and double drop D let the first string down to D4, 62 (trade)."""
    assert not heard(on(0.0, 64), on(0.5, 76), on(1.0, 62)).are_no_strings


def test_a_second_channel_tells_that_channels_are_strings_however_low_one_is_tuned():
    assert not heard(on(0.0, 60), on(0.5, 55, channel=2)).are_no_strings


def test_what_is_no_note_tells_nothing():
    assert heard(off(0.0, 60), (0.0, b"\xf8")) == ChannelsHeard()


def test_it_is_sure_after_some_notes():
    assert not heard(*[on(0.0, 60)] * (SURE_AFTER - 1)).surely
    assert heard(*[on(0.0, 60)] * SURE_AFTER).surely
