"""What Ctrl-C does: it ends the program without a word, whatever is under way.

While the program is loaded nothing can be lost, and the system ends it. Once it is at work `KeyboardInterrupt` is
raised, so that what was begun is left tidy. This module loads next to nothing, to be there at once.
"""

import _thread
import signal
import sys
from types import FrameType

INTERRUPTED = 130
"""The exit status of what Ctrl-C ended: 128 and the number of the signal, as shells tell it."""

_SAID_AGAIN_S = 0.02


class _Heard:
    """Whether Ctrl-C came since the program began to be at work."""

    interrupted = False


def end_at_once() -> None:
    """From now on Ctrl-C ends the program at once; where it was told to pass Ctrl-C over it goes on doing so, as what a
    shell runs in the background.
    """
    _Heard.interrupted = False
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)


def end_tidily() -> None:
    """From now on Ctrl-C raises `KeyboardInterrupt`, where it ended the program at once."""
    if signal.getsignal(signal.SIGINT) is signal.SIG_DFL:
        signal.signal(signal.SIGINT, _interrupted)


def end_as_usual() -> None:
    """The program is over: to Ctrl-C Python answers as it does of itself, for whoever called it from within Python."""
    if signal.getsignal(signal.SIGINT) in (signal.SIG_DFL, _interrupted):
        signal.signal(signal.SIGINT, signal.default_int_handler)


def was_interrupted() -> bool:
    """Whether Ctrl-C came since the program is at work: what fails then may be what a library made of it."""
    return _Heard.interrupted


def raise_what_was_lost() -> None:
    """`KeyboardInterrupt` once more, where Ctrl-C came and yet the program goes on: a library had called Python at that
    moment and passed over what was raised, as pygame does while it looks for the picture of its window.
    """
    if was_interrupted():
        raise KeyboardInterrupt


def _interrupted(number: int, frame: FrameType | None) -> None:
    _Heard.interrupted = True
    signal.default_int_handler(number, frame)


def say_again(lost: "sys.UnraisableHookArgs") -> None:
    """Ctrl-C that comes where nothing can be raised, while something is thrown away, would be told and forgotten (see
    `sys.unraisablehook`): it is said again a moment later.
    """
    if lost.exc_type is None or not issubclass(lost.exc_type, KeyboardInterrupt):
        sys.__unraisablehook__(lost)
        return
    import threading  # noqa: PLC0415 - see above

    again = threading.Timer(_SAID_AGAIN_S, _interrupt, (threading.main_thread().ident,))
    again.daemon = True
    again.start()


def _interrupt(main_thread: int) -> None:
    """As Ctrl-C does, also where the program waits for the system. Windows interrupts only between two steps."""
    if hasattr(signal, "pthread_kill"):
        signal.pthread_kill(main_thread, signal.SIGINT)
    else:
        _thread.interrupt_main()
