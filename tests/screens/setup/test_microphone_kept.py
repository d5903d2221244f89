"""What is kept of microphones."""

from game.player.device_settings import MicrophoneSettings
from game.player.settings import InstrumentKind
from game.screens.setup.microphone_kept import (
    choose_microphone,
    keep_of_microphone,
    mark_oneself,
    microphone_kept,
)


def test_choosing_an_input_makes_it_a_guitar_that_is_heard_and_marking_oneself_closes_it(table):
    mark_oneself(table.context)
    assert not table.context.listens
    choose_microphone(table.context, "an interface")
    assert table.context.settings.by_microphone
    mark_oneself(table.context)
    assert table.context.settings.microphone == ""
    assert table.context.settings.instrument is InstrumentKind.NO_PICKUP


def test_each_input_keeps_its_own(table):
    keep_of_microphone(table.context, "an interface", channel=2, delay_ms=40.0)
    keep_of_microphone(table.context, "a webcam", delay_ms=90.0)
    keep_of_microphone(table.context, "an interface", set_up=True)
    assert microphone_kept(table.context, "an interface") == MicrophoneSettings(channel=2, delay_ms=40.0, set_up=True)
    assert microphone_kept(table.context, "a webcam").delay_ms == 90.0
    assert microphone_kept(table.context, "another") == MicrophoneSettings()


def test_what_is_so_already_is_not_written_again(table):
    keep_of_microphone(table.context, "an interface", channel=2)
    before = table.context.settings
    keep_of_microphone(table.context, "an interface", channel=2)
    assert table.context.settings is before
