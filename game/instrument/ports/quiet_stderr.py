"""Standard error turned away while C libraries are asked what they have: they complain there of what is
missing.
"""

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

_turned_away = threading.RLock()


@contextmanager
def quiet_standard_error() -> Iterator[None]:
    """Nothing written to file descriptor 2 in the block arrives, from any thread: keep the block short.

    Python's own `sys.stderr` is flushed before. Does nothing where there is no descriptor 2.
    """
    with _turned_away:
        kept = _duplicate_standard_error()
        if kept is None:
            yield
            return
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, 2)
            yield
        finally:
            os.dup2(kept, 2)
            os.close(nowhere)
            os.close(kept)


def _duplicate_standard_error() -> int | None:
    try:
        if sys.stderr is not None:
            sys.stderr.flush()
        return os.dup(2)
    except (OSError, ValueError):
        return None
