"""The files of the library on the disk: each whole or not at all."""

import os
from contextlib import suppress
from pathlib import Path

from game.errors import TuneError, reason_of
from game.paths import write_whole_file


def keep_original(path: Path, original: bytes, of_first_part: Path) -> None:
    """One copy on the disk for all tunes of one file, where the system can: a book of tunes may hold hundreds."""
    if path != of_first_part and not path.exists() and of_first_part.exists():
        with suppress(OSError):
            os.link(of_first_part, path)
    write_once(path, original)


def write_once(path: Path, content: bytes) -> None:
    """Write a whole file where there is none yet. Raises `TuneError` when it cannot be written."""
    if not path.exists():
        write_whole(path, content)


def write_whole(path: Path, content: bytes) -> None:
    """Write a whole file or none: a full disk or a power cut leaves what was there. Raises `TuneError` for none."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole_file(path, content)
    except OSError as fault:
        raise TuneError("tune.library_not_written", reason=reason_of(fault)) from fault
