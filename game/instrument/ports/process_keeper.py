"""Keeps a process listening to the input that is wanted: begun, ended and replaced in a thread of its own, beside the
frame, which only reads what the processes said.
"""

import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from game.instrument.ports.sound_input import SoundTerms
from game.instrument.ports.sound_process import Frame, SoundProcess
from game.instrument.ports.sound_wire import ListenTo, Order

DEAD_AFTER_S = 15.0
"""A process that says nothing for so long hangs in a system that is gone."""

FINE_AFTER_S = 60.0
"""Ours: what broke off later than this after it began is a new misfortune."""

_LOOKS_EVERY_S = 0.25
_PAUSES_S = (0.0, 0.5, 2.0, 5.0)
"""Before it is begun again, the first time, the second, and so on."""


class ListeningProcess(Protocol):
    """A process that listens, as `SoundProcess` is one."""

    frames: deque[Frame]
    heard_s: float

    @property
    def over(self) -> bool:
        """Whether it has ended."""
        ...

    def tell(self, order: Order) -> None:
        """Say what is wanted."""
        ...

    def stop(self) -> None:
        """End it in order, and let go of it."""
        ...

    def kill(self) -> None:
        """End it wherever it is."""
        ...


BeginListening = Callable[[ListenTo, Callable[[], float]], ListeningProcess]


@dataclass(slots=True)
class KeptProcess:
    """A process with what it was begun for, and when by the keeper's clock; `stopped` once it was ended by us."""

    process: ListeningProcess
    terms: SoundTerms
    began_s: float
    stopped: bool = False


class ProcessKeeper:
    """Has one process while an input is wanted, and none without.

    `kept_in` is a file that all that comes is written into; `first_orders` are what each new process is told beside
    what it listens to, asked for when it begins. The thread begins once something is wanted. Without
    `looks_after_itself` there is no such thread, and whoever made it calls `look_after_process`.
    """

    def __init__(
        self,
        now_s: Callable[[], float],
        *,
        begin: BeginListening = SoundProcess,
        kept_in: str = "",
        first_orders: Callable[[], Iterable[Order]] = lambda: (),
        looks_after_itself: bool = True,
    ) -> None:
        self._now_s, self._begin, self._kept_in, self._first_orders = now_s, begin, kept_in, first_orders
        self._looks_after_itself = looks_after_itself
        self._thread: threading.Thread | None = None
        self._look, self._closing = threading.Event(), threading.Event()
        self._terms: SoundTerms | None = None
        self._given_up = False
        self._failures, self._due_s = 0, 0.0
        self._running: KeptProcess | None = None
        # Those that were begun and not read to their end yet, and the one that is being read.
        self._begun: deque[KeptProcess] = deque()
        self._read: KeptProcess | None = None

    # In the frame.

    @property
    def terms(self) -> SoundTerms | None:
        """What is wanted; None for nothing."""
        return self._terms

    def want(self, terms: SoundTerms | None) -> None:
        """Listen to this from now on, None for nothing. One that was given up is tried again."""
        if terms == self._terms and not self._given_up:
            return
        self._terms = terms
        self._failures, self._due_s, self._given_up = 0, 0.0, False
        if terms is not None and self._thread is None and self._looks_after_itself:
            self._thread = threading.Thread(target=self._keep_listening, name="microphone", daemon=True)
            self._thread.start()
        self._look.set()

    def give_up(self) -> None:
        """Begin no other process until something is wanted anew."""
        self._given_up = True

    def tell(self, order: Order) -> None:
        """Say something to the process that runs now; nobody hears it where none does."""
        running = self._running
        if running is not None:
            running.process.tell(order)

    def said(self) -> Iterator[tuple[KeptProcess, float, bytes | None]]:
        """What the processes said since the last call, one process after the other: who, when, and the message; None
        for its end, which is told once.
        """
        while self._read is not None or self._begun:
            if self._read is None:
                self._read = self._begun.popleft()
            running = self._read
            while running.process.frames:
                at_s, frame = running.process.frames.popleft()
                if frame is None:
                    self._read = None
                yield running, at_s, frame
                if frame is None:
                    break
            if self._read is not None:
                return

    def close(self) -> None:
        """Stop listening. Waits for the thread, three seconds at most."""
        self._closing.set()
        self._look.set()
        if self._thread is not None:
            self._thread.join(timeout=3)

    # In the thread of its own.

    def _keep_listening(self) -> None:
        while not self._closing.is_set():
            self.look_after_process()
            self._look.wait(_LOOKS_EVERY_S)
            self._look.clear()
        self._stop()

    def look_after_process(self) -> None:
        """Begin, end and replace the process, as it is wanted now. Called again and again by the thread of its own."""
        terms, running, now_s = self._terms, self._running, self._now_s()
        if running is not None and (terms is None or _heard_otherwise(terms, running.terms)):
            self._stop()
        elif running is not None and running.process.over:
            running.process.stop()
            self._running = None
            self._failures = 1 if now_s - running.began_s > FINE_AFTER_S else self._failures + 1
            self._due_s = now_s + _PAUSES_S[min(self._failures, len(_PAUSES_S)) - 1]
        elif running is not None and now_s - running.process.heard_s > DEAD_AFTER_S:
            running.process.kill()
        wanted = terms is not None and not self._given_up and not self._closing.is_set()
        if terms is not None and wanted and self._running is None and now_s >= self._due_s:
            self._start(terms, now_s)

    def _start(self, terms: SoundTerms, now_s: float) -> None:
        try:
            process = self._begin(ListenTo(terms, self._kept_in), self._now_s)
        except OSError:
            self._due_s = now_s + _PAUSES_S[-1]
            return
        for order in self._first_orders():
            process.tell(order)
        self._running = KeptProcess(process, terms, now_s)
        self._begun.append(self._running)

    def _stop(self) -> None:
        running, self._running = self._running, None
        if running is not None:
            running.stopped = True
            running.process.stop()


def _heard_otherwise(terms: SoundTerms, before: SoundTerms) -> bool:
    """Whether a process that listens has to be another; the delay is taken out by whoever reads what it says."""
    return replace(terms, delay_s=0.0) != replace(before, delay_s=0.0)
