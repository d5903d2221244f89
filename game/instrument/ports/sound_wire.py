"""What the listening process and the game tell each other, as it goes through their pipes.

Each message is four bytes of length (big-endian) and that many bytes of MessagePack, an array that begins with what it
is. Times are on the clock of the process that tells them, `time.perf_counter`.
"""

from typing import IO

import msgspec

from game.instrument.listening.heard import Told
from game.instrument.ports.sound_input import SoundInput, SoundLevel, SoundTerms, Tone
from game.message import Message, from_plain, to_plain

LONGEST_MESSAGE = 64_000_000
"""Bytes: a minute of one channel at 192 kHz."""

_LENGTH_BYTES = 4


class _WireMessage(msgspec.Struct, frozen=True, array_like=True, tag=True):
    """One message, by the name of its class."""


class ListenTo(_WireMessage, frozen=True):
    """To the process, first of all: listen to this input. `kept_in` is a file that all that comes is written into, ""
    for none.
    """

    terms: SoundTerms
    kept_in: str = ""


class ExpectNotes(_WireMessage, frozen=True):
    """To the process: MIDI numbers that may come next."""

    pitches: tuple[int, ...]


class TellTone(_WireMessage, frozen=True):
    """To the process: tell the tone that sounds from now on, or no more."""

    wanted: bool


class RecordSound(_WireMessage, frozen=True):
    """To the process: record from now on; `number` comes back with it."""

    number: int
    seconds: float


Order = ListenTo | ExpectNotes | TellTone | RecordSound


class InputOpened(_WireMessage, frozen=True):
    """The input is listened to from now on, `at_s` on the clock of the process."""

    name: str
    rate: int
    at_s: float


class InputRefused(_WireMessage, frozen=True):
    """It cannot be listened to: `reason` is a message, plain. `absent` where there is no such input now; `for_good`
    where trying again is no use.
    """

    reason: dict[str, object]
    absent: bool = False
    for_good: bool = False

    @property
    def message(self) -> Message:
        """Why. Raises `ValueError` for what is no message."""
        return from_plain(self.reason)


class InputLost(_WireMessage, frozen=True):
    """Nothing comes any more from an input that was listened to. The process ends with this."""


class StillWaiting(_WireMessage, frozen=True):
    """The process waits for its input, and lives."""


class NotesHeard(_WireMessage, frozen=True):
    """What was told of notes; the stream of their times began at `began_s`, as far as is known by now."""

    told: tuple[Told, ...]
    began_s: float


class LevelHeard(_WireMessage, frozen=True):
    """How loud it was."""

    level: SoundLevel


class ToneHeard(_WireMessage, frozen=True):
    """The tone that sounds, None in silence."""

    tone: Tone | None


class SoundRecorded(_WireMessage, frozen=True):
    """What `RecordSound` asked for: samples as 32-bit floats of this machine."""

    number: int
    started_s: float
    rate: int
    samples: bytes


class KeepingEnded(_WireMessage, frozen=True):
    """No more is written into the file, and why."""

    reason: dict[str, object]


class InputsFound(_WireMessage, frozen=True):
    """The inputs that there are; where it is known why there are none, the `reason`, plain."""

    inputs: tuple[SoundInput, ...]
    reason: dict[str, object] | None = None


SoundNews = (
    InputOpened
    | InputRefused
    | InputLost
    | StillWaiting
    | NotesHeard
    | LevelHeard
    | ToneHeard
    | SoundRecorded
    | KeepingEnded
    | InputsFound
)

_ENCODER = msgspec.msgpack.Encoder()
_ORDERS: msgspec.msgpack.Decoder[Order] = msgspec.msgpack.Decoder(Order)
_NEWS: msgspec.msgpack.Decoder[SoundNews] = msgspec.msgpack.Decoder(SoundNews)


def refused(reason: Message, *, absent: bool = False, for_good: bool = False) -> InputRefused:
    """An input that cannot be listened to."""
    return InputRefused(to_plain(reason), absent, for_good)


def put(pipe: IO[bytes], said: Order | SoundNews) -> None:
    """Write one message and flush it. Raises `OSError` where nobody reads any more."""
    content = _ENCODER.encode(said)
    pipe.write(len(content).to_bytes(_LENGTH_BYTES, "big") + content)
    pipe.flush()


def next_frame(pipe: IO[bytes]) -> bytes | None:
    """The next whole message as it came; None once the pipe is closed, also in the middle of one, and for one that is
    too long to be ours.
    """
    head = pipe.read(_LENGTH_BYTES)
    length = int.from_bytes(head, "big")
    if len(head) < _LENGTH_BYTES or length > LONGEST_MESSAGE:
        return None
    content = pipe.read(length)
    return content if len(content) == length else None


def order_in(frame: bytes) -> Order:
    """What the game said. Raises `msgspec.MsgspecError` for what is no order."""
    return _ORDERS.decode(frame)


def news_in(frame: bytes) -> SoundNews:
    """What the process said. Raises `msgspec.MsgspecError` for what it never says."""
    return _NEWS.decode(frame)
