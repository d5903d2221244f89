"""Waiting for an event itself. The bound is only there to end a run in which it never comes."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

AT_MOST_S = 120.0
TRIES = 3
_LOOK_EVERY_S = 0.02

Found = TypeVar("Found")


class NeverCameError(AssertionError):
    """What was waited for never came: where a busy computer loses what is played, it may come the next time."""


def wait_until(look: Callable[[], Found], what: str) -> Found:
    """What `look` finds, once it finds something; `what` says in the failure what never came."""
    if not (found := found_within(AT_MOST_S, look)):
        raise NeverCameError(f"{what} never came within {AT_MOST_S:g} s: {found!r}")
    return found


def found_within(seconds: float, look: Callable[[], Found]) -> Found:
    """What `look` finds, once it finds something; what it finds after so long where that is nothing."""
    deadline = time.monotonic() + seconds
    while not (found := look()) and time.monotonic() < deadline:
        time.sleep(_LOOK_EVERY_S)
    return found


def played_anew(play: Callable[[Path], None], folder: Path) -> None:
    """Play something in a home of its own, and once more in another where something never came: a server that a busy
    computer keeps waiting loses a message now and then, and a page waits for that note without end. A result that came
    is not asked for again.
    """
    for attempt in range(TRIES):
        home = folder / str(attempt)
        home.mkdir()
        try:
            play(home)
        except NeverCameError:
            if attempt == TRIES - 1:
                raise
        else:
            return
