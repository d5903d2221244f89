"""Who may read the files of a log: its owner alone, wherever it lies, and in a folder for several people those people.

SQLite gives its journals the permissions of the file itself. On Windows, and on disks that know no permissions, all of
this changes nothing.
"""

import stat
from contextlib import suppress
from pathlib import Path

OWNER_ONLY = 0o600
"""Permissions: what somebody played is nobody else's business."""

_WRITE_FOR_OTHERS = stat.S_IWGRP | stat.S_IWOTH


def make_private(path: Path) -> None:
    """Make an empty file that its owner alone can read, where there is none. Where that is refused, whoever writes it
    next will be told.
    """
    with suppress(OSError):
        path.touch(mode=OWNER_ONLY, exist_ok=True)


def share_as_folder(path: Path) -> None:
    """Let a file be read and written by whoever its folder is for."""
    with suppress(OSError):
        path.chmod(path.parent.stat().st_mode & 0o666)


def share_where_meant(path: Path) -> None:
    """A file that somebody asked for is theirs alone, but in a folder into which others write too, such as one in which
    a class hands in: there it is for them all. A folder in which everybody clears away only what is their own, such as
    that of the system for passing files, is none.
    """
    mode = path.parent.stat().st_mode
    if mode & _WRITE_FOR_OTHERS and not mode & stat.S_ISVTX:
        share_as_folder(path)
