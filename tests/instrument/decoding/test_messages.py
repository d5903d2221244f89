"""MIDI bytes become messages, whatever else is on the line."""

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.messages import (
    ControlChange,
    NoteOff,
    NoteOn,
    PitchBend,
    decode,
)


def test_a_note_on_has_its_channel_counted_from_one():
    assert decode(bytes((0x95, 60, 100))) == NoteOn(6, 60, 100)


def test_a_note_on_with_velocity_0_is_a_note_off_with_velocity_64():
    """MIDI 1.0."""
    assert decode(bytes((0x90, 60, 0))) == NoteOff(1, 60, 64)


@pytest.mark.parametrize(("low", "high", "bend"), [(0x00, 0x00, -8192), (0x00, 0x40, 0), (0x7F, 0x7F, 8191)])
def test_pitch_bend_is_14_bits_around_its_centre(low, high, bend):
    """MIDI 1.0: bytes 00 00, 00 40 and 7F 7F."""
    assert decode(bytes((0xE2, low, high))) == PitchBend(3, bend)


def test_mode_4_messages_silence_a_channel():
    """MIDI 1.0, mode 4: omni off (7C), mono on with six voices (7E 06); both also mean all notes off."""
    assert decode(bytes.fromhex("B07C00")).silences
    assert decode(bytes.fromhex("B07E06")) == ControlChange(1, 126, 6)
    assert not decode(bytes.fromhex("B07A00")).silences


@pytest.mark.parametrize("message", [b"", b"\x90", b"\x90\x3c", b"\xf0\x41\xf7", b"\xf8", b"\xc0\x05", b"<Pd"])
def test_a_message_of_no_use_is_none(message):
    assert decode(message) is None


@given(st.binary(max_size=5))
def test_random_bytes_never_raise_and_only_three_make_a_message(received):
    assert decode(received) is None or len(received) == 3


channels, data = st.integers(0, 15), st.integers(0, 127)
mido_messages = st.one_of(
    st.builds(mido.Message, st.just("note_on"), channel=channels, note=data, velocity=data),
    st.builds(mido.Message, st.just("note_off"), channel=channels, note=data, velocity=data),
    st.builds(mido.Message, st.just("control_change"), channel=channels, control=data, value=data),
    st.builds(mido.Message, st.just("pitchwheel"), channel=channels, pitch=st.integers(-8192, 8191)),
    st.builds(mido.Message, st.just("program_change"), channel=channels, program=data),
    st.builds(mido.Message, st.just("aftertouch"), channel=channels, value=data),
    st.builds(mido.Message, st.just("polytouch"), channel=channels, note=data, value=data),
    st.builds(mido.Message, st.just("sysex"), data=st.lists(data, max_size=8)),
    st.builds(mido.Message, st.just("songpos"), pos=st.integers(0, 16383)),
    st.builds(mido.Message, st.sampled_from(["clock", "start", "stop", "active_sensing", "tune_request"])),
)


def ours(message: mido.Message):
    """What mido's message is in our types; None for kinds we read past."""
    channel = message.channel + 1 if hasattr(message, "channel") else None
    match message.type:
        case "note_on" if message.velocity:
            return NoteOn(channel, message.note, message.velocity)
        case "note_on":
            return NoteOff(channel, message.note)
        case "note_off":
            return NoteOff(channel, message.note, message.velocity)
        case "control_change":
            return ControlChange(channel, message.control, message.value)
        case "pitchwheel":
            return PitchBend(channel, message.pitch)
        case _:
            return None


@given(mido_messages)
def test_a_whole_message_means_what_mido_says(message):
    """Reference: mido's encoding of single messages."""
    assert decode(bytes(message.bytes())) == ours(message)
