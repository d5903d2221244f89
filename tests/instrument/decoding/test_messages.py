"""MIDI bytes become messages, whatever else is on the line."""

from itertools import pairwise

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.messages import (
    ByteStream,
    ControlChange,
    NoteOff,
    NoteOn,
    PitchBend,
    decode,
    read_stream,
)

CLOCK, ACTIVE_SENSING = 0xF8, 0xFE


def messages_in(stream: bytes):
    return read_stream(ByteStream(), stream)[1]


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


def test_running_status_gives_every_note():
    assert messages_in(bytes((0x90, 60, 80, 62, 80, 60, 0))) == (
        NoteOn(1, 60, 80),
        NoteOn(1, 62, 80),
        NoteOff(1, 60),
    )


def test_clock_inside_a_message_does_not_lose_it():
    stream = bytes((0x90, CLOCK, 60, ACTIVE_SENSING, 80, CLOCK, 62, CLOCK, 81))
    assert messages_in(stream) == (NoteOn(1, 60, 80), NoteOn(1, 62, 81))


def test_system_exclusive_is_skipped_and_ends_running_status():
    """MIDI 1.0: system exclusive clears running status; the two bytes after it belong to nothing."""
    stream = bytes((0x90, 60, 80, 0xF0, 0x41, 60, 80, CLOCK, 12, 0xF7, 64, 80, 0x91, 65, 80))
    assert messages_in(stream) == (NoteOn(1, 60, 80), NoteOn(2, 65, 80))


def test_song_position_is_read_past():
    assert messages_in(bytes((0xF2, 1, 2, 60, 80, 0x90, 60, 80))) == (NoteOn(1, 60, 80),)


@given(st.binary(max_size=400))
def test_random_bytes_never_raise(stream):
    decode(stream[:3])
    state, _ = read_stream(ByteStream(), stream)
    assert len(state.pending) < 2


@given(st.binary(max_size=200), st.lists(st.integers(0, 200), max_size=6))
def test_a_stream_reads_the_same_however_it_is_cut(stream, cuts):
    edges = sorted({0, len(stream), *(cut for cut in cuts if cut < len(stream))})
    state, found = ByteStream(), ()
    for start, end in pairwise(edges):
        state, messages = read_stream(state, stream[start:end])
        found += messages
    assert found == messages_in(stream)


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


@given(st.lists(mido_messages, max_size=20), st.randoms(use_true_random=False))
def test_running_status_and_clock_anywhere_change_nothing(sent, rng):
    """Reference: mido's encoding, thinned to running status and sprinkled with real-time bytes as MIDI 1.0
    allows.
    """
    stream = bytearray()
    status_in_force = None
    for message in sent:
        status, *rest = message.bytes()
        real_time = status >= 0xF8
        stream += bytes(rest) if status == status_in_force else bytes((status, *rest))
        if not real_time:
            status_in_force = status if status < 0xF0 else None
    sprinkled = bytearray()
    for byte in stream:
        sprinkled += bytes(rng.choices((CLOCK, ACTIVE_SENSING), k=rng.choice((0, 0, 1, 2))))
        sprinkled.append(byte)
    assert messages_in(bytes(sprinkled)) == tuple(found for m in sent if (found := ours(m)))
