"""The game's side of the process that listens: it is begun, told what to do, and ended; what it says waits to be
read.
"""

import os
import subprocess
import sys
import threading
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import msgspec

from game.instrument.ports.sound_wire import InputsFound, ListenTo, Order, news_in, next_frame, put
from game.message import message, to_plain

MODULE = "game.instrument.ports.sound_child"
ANSWERS_WITHIN_S = 20.0
"""Systems for sound ask each of their devices, and some of these take seconds."""

_ENDS_WITHIN_S = 1.5
_MOST_WAITING = 20_000
"""Messages; what nobody reads for a quarter of an hour gives way."""

Frame = tuple[float, bytes | None]
"""When it came, and one message; None at the end."""


class SoundProcess:
    """A process that listens as `order` says. What it says waits in `frames`, stamped by `now_s`, until it is read.

    Raises `OSError` where the system starts none.
    """

    def __init__(self, order: ListenTo, now_s: Callable[[], float]) -> None:
        self.frames: deque[Frame] = deque(maxlen=_MOST_WAITING)
        self.heard_s = now_s()
        self._process = _begun()
        threading.Thread(target=self._read, args=(now_s,), name="sound", daemon=True).start()
        self.tell(order)

    @property
    def over(self) -> bool:
        """Whether it has ended, well or not."""
        return self._process.poll() is not None

    def tell(self, order: Order) -> None:
        """Say what is wanted. One that has ended hears it no more."""
        pipe = self._process.stdin
        assert pipe is not None
        with suppress(OSError, ValueError):
            put(pipe, order)

    def stop(self) -> None:
        """End it: it closes what it has open, or is killed. Takes up to one and a half seconds, and none where it has
        ended.
        """
        pipe = self._process.stdin
        assert pipe is not None
        with suppress(OSError):
            pipe.close()
        try:
            self._process.wait(_ENDS_WITHIN_S)
        except subprocess.TimeoutExpired:
            self.kill()

    def kill(self) -> None:
        """End it wherever it is."""
        self._process.kill()
        self._process.wait()

    def _read(self, now_s: Callable[[], float]) -> None:
        pipe = self._process.stdout
        assert pipe is not None
        with pipe, suppress(OSError, ValueError):
            while (frame := next_frame(pipe)) is not None:
                self.heard_s = now_s()
                self.frames.append((self.heard_s, frame))
        self.frames.append((now_s(), None))


def sound_inputs() -> InputsFound:
    """The inputs that there are now, asked by a process of its own, since a system may hang. Takes half a second, and
    up to twenty where one does.
    """
    try:
        done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
            [*_COMMAND, "inputs"],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=_environment(),
            timeout=ANSWERS_WITHIN_S,
            check=False,
        )
        news = news_in(done.stdout[4:])
    except (OSError, subprocess.TimeoutExpired, msgspec.MsgspecError):
        news = None
    if isinstance(news, InputsFound):
        return news
    return InputsFound((), to_plain(message("sound_input.no_answer")))


_COMMAND = (sys.executable, "-P", "-m", MODULE)


def _begun() -> "subprocess.Popen[bytes]":
    return subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
        _COMMAND,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=_environment(),
    )


def _environment() -> dict[str, str]:
    """With us on the path, and without the threads of libraries for arrays, which cost more than they give here."""
    with_us = os.pathsep.join([str(Path(__file__).parents[3]), *filter(None, [os.environ.get("PYTHONPATH")])])
    single = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")
    return {**os.environ, **single, "PYTHONPATH": with_us}
