"""What ends the game from outside does what the close button does: the system that shuts down, the terminal that is
closed. What was played is in the log, and nothing is said.
"""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

_SIGNALS = ("SIGTERM", "SIGHUP")
"""By which a program is asked to end, and told that its terminal is gone (POSIX, signal.h). Windows has not both."""


@contextmanager
def closed_by_signals(close: Callable[[], None]) -> Iterator[None]:
    """While the block runs such a signal calls `close`, the same again ends the program at once. What it was begun to
    pass over, as by nohup, it goes on passing over.
    """

    def closed(number: int, _frame: FrameType | None) -> None:
        signal.signal(number, signal.SIG_DFL)
        close()

    numbers = [getattr(signal, name) for name in _SIGNALS if hasattr(signal, name)]
    ours = [number for number in numbers if signal.getsignal(number) is signal.SIG_DFL]
    for number in ours:
        signal.signal(number, closed)
    try:
        yield
    finally:
        for number in ours:
            signal.signal(number, signal.SIG_DFL)
