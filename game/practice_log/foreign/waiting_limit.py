"""How long a child may let us wait in all."""

import threading
import time
from collections.abc import Callable
from types import TracebackType
from typing import Self


class WaitingLimit:
    """Ends a child that lets us wait longer than so many seconds in all: used with `with` around each time that it is
    waited for. What is done with its answers in between is time of our own: of years of practice it is several times as
    long, and on a busy computer longer still.
    """

    def __init__(self, limit_s: float, end: Callable[[], None]) -> None:
        self.left_s, self._end = limit_s, end

    def __enter__(self) -> Self:
        self._began_s = time.monotonic()
        self._alarm = threading.Timer(max(0.0, self.left_s), self._end)
        self._alarm.daemon = True
        self._alarm.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._alarm.cancel()
        self.left_s -= time.monotonic() - self._began_s
