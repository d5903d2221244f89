"""Logs that tests open and hand about: each is closed when nobody knows it any more. Python 3.13 warns of one that is
left open.
"""

import sqlite3
from functools import partial
from pathlib import Path

import pytest

from game.practice_log.database.store import open_store
from tests.practice_log.logged_takes import MORNING

_connect = sqlite3.connect


class ClosedWhenForgotten(sqlite3.Connection):
    """A connection that nobody has to close."""

    def __del__(self) -> None:
        self.close()


def opened_log(path: Path | None = None) -> sqlite3.Connection:
    """The log in `path`, made where there is none; without a path one in memory."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sqlite3, "connect", partial(_connect, factory=ClosedWhenForgotten))
        return open_store(path, now_utc=MORNING)


def in_memory() -> sqlite3.Connection:
    """A database without tables."""
    return _connect(":memory:", isolation_level=None, factory=ClosedWhenForgotten)
