"""The process that listens: it opens the audio input, analyses what comes and tells notes. No frame waits for it.

Run as `python -m game.instrument.ports.sound_child` by `game.instrument.ports.sound_process` alone; orders come by
standard input, news go by standard output (`game.instrument.ports.sound_wire`). It ends when standard input closes, so
also with the game however that ends. With the word `inputs` it tells which inputs there are and ends.

Three threads: the library's own copies blocks into a queue, one reads orders, and this one analyses.
"""

import gc
import os
import queue
import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import IO, NoReturn

import msgspec
import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.known_sound import KnownSound
from game.instrument.listening.listener import Listener
from game.instrument.listening.range_heard import lowest_looked_for
from game.instrument.ports.driver import PortError
from game.instrument.ports.sound_clock import StreamClock, after_block
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.ports.sound_keeping import SoundFileKept
from game.instrument.ports.sound_library import OpenInput, SoundLibrary
from game.instrument.ports.sound_meter import SoundMeter
from game.instrument.ports.sound_tone import ToneFinder
from game.instrument.ports.sound_wire import (
    ExpectNotes,
    InputLost,
    InputOpened,
    InputsFound,
    KeepingEnded,
    LevelHeard,
    ListenTo,
    NotesHeard,
    Order,
    RecordSound,
    SoundRecorded,
    StillWaiting,
    TellTone,
    ToneHeard,
    next_frame,
    order_in,
    put,
    refused,
)
from game.message import to_plain

LOOKS_AGAIN_S = 2.0
"""So often an input that is not there, or that another program has, is looked for."""

SILENT_S, SILENT_AT_FIRST_S = 1.5, 5.0
"""So long nothing at all comes, not even silence, before an input is taken for lost; at the beginning some take
longer.
"""

ENDS_WITHIN_S = 1.0
"""Time for what is under way, and for the end of a file, before the process ends whatever hangs."""

LEVEL_EVERY_S, TONE_EVERY_S = 0.1, 0.05
MOST_RECORDED_S = 60.0
_AT_LEAST_S, _MOST_AT_ONCE = 0.005, 64
"""So much is analysed together, no more than the steps in which it is listened to, and at most so many blocks that
wait.
"""
_SWITCH_S = 0.0005
"""The library's thread waits for the interpreter no longer than this while another runs, or other programs lose
sound.
"""


def main(words: list[str]) -> NoReturn:
    """Listen until standard input closes; or tell which inputs there are."""
    # A terminal interrupts us with the game, which then lets us end what is being kept.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    news = os.fdopen(os.dup(1), "wb")
    # Whatever a library prints must not land among the news.
    os.dup2(2, 1)
    sys.setswitchinterval(_SWITCH_S)
    with suppress(OSError):
        if words == ["inputs"]:
            put(news, inputs_found())
        else:
            _listen(sys.stdin.buffer, news)
    # Not by way of the library, which may wait without end for a system that is gone.
    os._exit(0)


def inputs_found() -> InputsFound:
    """The inputs there are, or why nobody can tell."""
    try:
        return InputsFound(SoundLibrary().inputs())
    except PortError as error:
        return InputsFound((), to_plain(error.message))


def _listen(orders: IO[bytes], news: IO[bytes]) -> None:
    first = next_frame(orders)
    if first is None:
        return
    order = order_in(first)
    if not isinstance(order, ListenTo):
        return
    waiting = OrdersComing(orders)
    try:
        library = SoundLibrary()
    except PortError as error:
        put(news, refused(error.message, for_good=True))
        return
    opened = opened_when_there(library, order.terms, news, waiting)
    if opened is not None:
        HeardInput(opened, order, news).listen(waiting)


class OrdersComing:
    """Orders as they come, read by a thread of its own. `ended` is set once no more can come, for the game has ended or
    has no more use for this process; what has not ended soon after is ended by that thread.
    """

    def __init__(self, orders: IO[bytes]) -> None:
        self.ended = threading.Event()
        self._waiting: queue.SimpleQueue[Order] = queue.SimpleQueue()
        threading.Thread(target=self._read, args=(orders,), name="orders", daemon=True).start()

    def come(self) -> Iterator[Order]:
        """Those that came since the last call."""
        while not self._waiting.empty():
            yield self._waiting.get()

    def _read(self, orders: IO[bytes]) -> NoReturn:
        with suppress(OSError, ValueError, msgspec.MsgspecError):
            while (frame := next_frame(orders)) is not None:
                self._waiting.put(order_in(frame))
        self.ended.set()
        time.sleep(ENDS_WITHIN_S)
        os._exit(0)


def opened_when_there(
    library: SoundLibrary, terms: SoundTerms, news: IO[bytes], orders: OrdersComing
) -> OpenInput | None:
    """The input, as soon as it is there and nobody else has it. Why it is not, is told once for each reason. None where
    no more orders can come meanwhile.
    """
    told: object = None
    while True:
        try:
            opened = library.open(terms.name, terms.channel)
        except PortError as error:
            if error.message != told:
                told = error.message
                put(news, refused(told, absent=told.key == "sound_input.absent"))
            else:
                put(news, StillWaiting())
            if orders.ended.wait(LOOKS_AGAIN_S):
                return None
            with suppress(PortError):
                library.look_again()
        else:
            put(news, InputOpened(opened.name, opened.rate, time.perf_counter()))
            return opened


class HeardInput:
    """An input that is open, with all that listens to it."""

    def __init__(self, opened: OpenInput, order: ListenTo, news: IO[bytes]) -> None:
        self._opened, self._news, self._rate = opened, news, opened.rate
        self._listener = Listener(
            opened.rate, floor_db=order.terms.floor_db, lowest=lowest_looked_for(order.terms.lowest_string)
        )
        self._known = KnownSound(opened.rate) if order.terms.own_clicks else None
        self._meter = SoundMeter(opened.rate)
        self._tones = ToneFinder(opened.rate, order.terms.floor_db)
        self._clock = StreamClock(opened.rate)
        self._least = round(_AT_LEAST_S * opened.rate)
        self._wants_tone = False
        self._recording: SoundRecording | None = None
        self._kept: SoundFileKept | None = None
        self._level_at_s = self._tone_at_s = 0.0
        if order.kept_in:
            self._keep_in(Path(order.kept_in))

    def listen(self, orders: OrdersComing) -> None:
        """Until no sound comes any more, or no orders."""
        # The collector passes over what stays for good, so that it delays no block.
        gc.collect()
        gc.freeze()
        heard_s, patience_s = time.perf_counter(), SILENT_AT_FIRST_S
        while not orders.ended.is_set():
            for order in orders.come():
                self.obey(order)
            if self.hear_next():
                heard_s, patience_s = time.perf_counter(), SILENT_S
            elif time.perf_counter() - heard_s > patience_s or not self._opened.alive:
                put(self._news, InputLost())
                break
        self._end_keeping()

    def obey(self, order: Order) -> None:
        """What the game wants besides notes."""
        match order:
            case ExpectNotes():
                self._listener.expect(order.pitches)
            case TellTone():
                self._wants_tone = order.wanted
            case RecordSound():
                self._recording = SoundRecording(order, self._rate, self._clock.samples)

    def hear_next(self) -> bool:
        """Wait a moment for what comes next, and tell what it brings. Whether anything came."""
        blocks = self._opened.blocks
        parts: list[NDArray[np.float32]] = []
        length, lost = 0, False
        while len(parts) < _MOST_AT_ONCE and not (length >= self._least and blocks.empty()):
            try:
                at_s, samples, lost_before = blocks.get(timeout=0.1)
            except queue.Empty:
                break
            self._stamp(len(samples), at_s, lost=lost_before)
            parts.append(samples)
            length += len(samples)
            lost |= lost_before
        if not parts:
            return False
        self._hear(parts[0] if len(parts) == 1 else np.concatenate(parts), lost=lost)
        self._tell_regularly()
        return True

    def _stamp(self, length: int, at_s: float, *, lost: bool) -> None:
        self._clock = after_block(self._clock, length, at_s, lost=lost)

    def _hear(self, samples: NDArray[np.float32], *, lost: bool) -> None:
        told = self._listener.feed(samples if self._known is None else self._known.take_out(samples))
        if told:
            put(self._news, NotesHeard(told, self._clock.began_s or 0.0))
        self._meter.feed(samples, lost=lost)
        if self._wants_tone:
            self._tones.feed(samples)
        if self._kept is not None:
            try:
                self._kept.write(samples)
            except PortError as error:
                self._kept = None
                put(self._news, KeepingEnded(to_plain(error.message)))
        if self._recording is not None and self._recording.feed(samples):
            put(self._news, self._recording.told(self._clock.taken_s(self._recording.first)))
            self._recording = None

    def _tell_regularly(self) -> None:
        now_s = time.perf_counter()
        if now_s - self._level_at_s >= LEVEL_EVERY_S:
            self._level_at_s = now_s
            put(self._news, LevelHeard(self._meter.level()))
        if self._wants_tone and now_s - self._tone_at_s >= TONE_EVERY_S:
            self._tone_at_s = now_s
            put(self._news, ToneHeard(self._tones.tone()))

    def _keep_in(self, path: Path) -> None:
        try:
            self._kept = SoundFileKept(path, self._rate)
        except PortError as error:
            put(self._news, KeepingEnded(to_plain(error.message)))

    def _end_keeping(self) -> None:
        if self._kept is not None:
            with suppress(PortError):
                self._kept.close()


class SoundRecording:
    """What is recorded from sample `first` on."""

    def __init__(self, order: RecordSound, rate: int, first: int) -> None:
        self.first = first
        self._order, self._rate = order, rate
        self._wanted = round(min(order.seconds, MOST_RECORDED_S) * rate)
        self._parts: list[NDArray[np.float32]] = []
        self._length = 0

    def feed(self, samples: NDArray[np.float32]) -> bool:
        """Some more. Whether it is complete."""
        self._parts.append(samples)
        self._length += len(samples)
        return self._length >= self._wanted

    def told(self, started_s: float) -> SoundRecorded:
        """All of it; the first sample was taken at `started_s`."""
        samples = b"".join(part.tobytes() for part in self._parts)[: 4 * self._wanted]
        return SoundRecorded(self._order.number, started_s, self._rate, samples)


if __name__ == "__main__":
    main(sys.argv[1:])
