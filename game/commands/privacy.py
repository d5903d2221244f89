"""What somebody played is nobody else's business: what the program keeps for itself can be read by its owner alone.

What is made because it was asked for (a report, a chart, an assignment) is made as everything else of that person is.
On Windows nothing of this is needed: what lies in a profile there is its owner's already.
"""

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from game.paths import own_folders

_OTHERS = 0o077
"""The bits of permissions that are of anybody but the owner (POSIX, sys/stat.h)."""

MAKE_WHAT_IS_ASKED = ("report", "map", "line", "assign", "demo", "devices", "score", "print")
"""The commands that are there to make a file for whoever asks; what they keep beside is made private by whoever keeps
it.
"""


@contextmanager
def private_files(words: Sequence[str]) -> Iterator[None]:
    """While a command runs, new files and folders are its owner's alone, and those of before become so."""
    if sys.platform == "win32":
        yield
        return
    before = os.umask(_OTHERS)
    try:
        for folder in own_folders():
            with suppress(OSError):
                tighten(folder)
        if words[:1] and words[0] in MAKE_WHAT_IS_ASKED:
            os.umask(before)
        yield
    finally:
        os.umask(before)


def tighten(folder: Path) -> None:
    """Let nobody but the owner into a folder, nor read what is in it. One into which nobody else can get is left as it
    is, for its content cannot be reached, and every start would look through all of it. Raises `OSError`.
    """
    if not folder.is_dir() or not folder.stat().st_mode & _OTHERS:
        return
    for path in folder.rglob("*"):
        with suppress(OSError):
            _take_from_others(path)
    # The last of all: where it was interrupted, it is done again.
    _take_from_others(folder)


def _take_from_others(path: Path) -> None:
    mode = path.lstat().st_mode
    if mode & _OTHERS and not path.is_symlink():
        path.chmod(mode & 0o700)
