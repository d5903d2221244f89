"""What the listening process and the game tell each other arrives as it was told, and nothing else does."""

import io

import msgspec
import pytest

from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.ports.sound_input import SoundInput, SoundLevel, SoundTerms, Tone
from game.instrument.ports.sound_wire import (
    LONGEST_MESSAGE,
    ExpectNotes,
    InputLost,
    InputOpened,
    InputsFound,
    KeepingEnded,
    LevelHeard,
    ListenTo,
    NotesHeard,
    RecordSound,
    SoundRecorded,
    StillWaiting,
    TellTone,
    ToneHeard,
    news_in,
    next_frame,
    order_in,
    put,
    refused,
)
from game.message import message, to_plain

NOTE = HeardNote(number=7, started_s=1.25, pitch=52.03, level_db=-21.5, clarity=0.93, sure=False, slurred=True)
WHY = message("sound_input.no_such_channel", input="a card", channels=2, channel=3)
ORDERS = (
    ListenTo(SoundTerms(name="a card ♪", channel=2, delay_s=0.01, floor_db=-50), "/home/ada/take.wav"),
    ExpectNotes((40, 52)),
    TellTone(wanted=True),
    RecordSound(3, 2.5),
)
NEWS = (
    InputOpened("a card", 48_000, 12.5),
    refused(WHY, absent=True),
    InputLost(),
    StillWaiting(),
    NotesHeard((Told(telling=Telling.REVISED, note=NOTE, at_s=1.3),), 100.5),
    LevelHeard(SoundLevel(rms_db=-30.5, peak_db=-12, hum_db=-80, clipped=1, lost=2)),
    ToneHeard(Tone(pitch=40.01, clarity=0.97)),
    ToneHeard(None),
    SoundRecorded(3, 101.5, 48_000, b"\x00\x01\x02\x03"),
    KeepingEnded(to_plain(WHY)),
    InputsFound((SoundInput(name="a card", channels=24, rate=192_000),), to_plain(WHY)),
)


def piped(*said):
    pipe = io.BytesIO()
    for one in said:
        put(pipe, one)
    pipe.seek(0)
    return pipe


def test_every_order_and_all_news_arrive_as_they_were_told_and_in_order():
    pipe = piped(*ORDERS)
    assert [order_in(next_frame(pipe)) for _ in ORDERS] == list(ORDERS)
    pipe = piped(*NEWS)
    assert [news_in(next_frame(pipe)) for _ in NEWS] == list(NEWS)
    assert next_frame(pipe) is None
    assert NEWS[1].message == WHY


@pytest.mark.parametrize("left", [0, 2, 4, 9])
def test_a_pipe_that_closes_in_the_middle_of_a_message_gives_none(left):
    whole = piped(NEWS[0]).getvalue()
    assert next_frame(io.BytesIO(whole[:left])) is None


def test_a_message_longer_than_any_of_ours_is_not_read():
    longer = (LONGEST_MESSAGE + 1).to_bytes(4, "big") + b"x" * 100
    assert next_frame(io.BytesIO(longer)) is None


def test_news_are_no_orders_and_nonsense_is_neither():
    news, order = next_frame(piped(NEWS[0])), next_frame(piped(ORDERS[0]))
    for read, frame in ((order_in, news), (news_in, order), (news_in, b"\xc1"), (order_in, b"")):
        with pytest.raises(msgspec.MsgspecError):
            read(frame)
