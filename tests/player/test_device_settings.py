"""What was found of an instrument when it was set up, as it stands in the file of settings."""

import msgspec
import pytest

from game.player.device_settings import DeviceSettings, MicrophoneSettings


def test_a_device_takes_out_of_its_times_what_was_measured():
    assert DeviceSettings(constant_ms=8, periods=1.5).delay.of(69) == pytest.approx(0.008 + 1.5 / 440)


@pytest.mark.parametrize(
    ("kind", "written"),
    [
        (DeviceSettings, {"channels": [1, 2, 3]}),
        (DeviceSettings, {"channels": [1, 2, 3, 17]}),
        (DeviceSettings, {"bend_semitones": 129}),
        (MicrophoneSettings, {"channel": 0}),
        (MicrophoneSettings, {"delay_ms": 601}),
        (MicrophoneSettings, {"floor_db": 1}),
    ],
)
def test_what_no_instrument_could_be_is_refused(kind, written):
    """Three strings, a seventeenth channel (MIDI 1.0 has sixteen), a bend of more than 127.99 semitones."""
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert(written, kind)
