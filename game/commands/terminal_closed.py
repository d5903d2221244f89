"""What the game does when its terminal is closed, or the one who began it logs out: the same as by the close button."""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def ended_by_hang_up(end: Callable[[], None]) -> Iterator[None]:
    """While the block runs SIGHUP (POSIX, signal.h) calls `end`, each time: system and shell both send it. Where it was
    to be passed over, as by nohup, it goes on being so; Windows has none. SIGTERM is left to the window's library,
    which makes of it what the close button is.
    """
    number = getattr(signal, "SIGHUP", None)
    if number is None or signal.getsignal(number) is not signal.SIG_DFL:
        yield
        return

    def hung_up(_number: int, _frame: FrameType | None) -> None:
        end()

    signal.signal(number, hung_up)
    try:
        yield
    finally:
        signal.signal(number, signal.SIG_DFL)
