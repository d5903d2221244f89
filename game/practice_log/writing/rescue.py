"""What could not be written into the log until the game was left goes into a file, which the next start takes in.

The file lies beside the log; where that is refused, in the player's home or among the temporary files. It is taken in
once, in one transaction with the note that it was, and goes when that is on the disk.
"""

import hashlib
import os
import stat
import tempfile
import weakref
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from itertools import count
from pathlib import Path

from game.practice_log.database.permissions import OWNER_ONLY
from game.practice_log.writing.entries import Entry, Rescued
from game.practice_log.writing.entry_lines import entry_line, entry_of

_HEAD = '{"homefret rescue": 1}'
_ENDING = ".jsonl"
_MOST_BYTES = 200_000_000


class SpareHandle:
    """One of the handles that the system gives a program, kept for later; none where there is none."""

    def __init__(self) -> None:
        self._frees: weakref.finalize[[int], SpareHandle] | None = None
        with suppress(OSError):
            self._frees = weakref.finalize(self, os.close, os.open(os.devnull, os.O_RDONLY))

    def free(self) -> None:
        """Now it is needed."""
        if self._frees is not None:
            self._frees()


def write_rescue(log: Path, entries: Iterable[Entry], *, now: datetime) -> Path | None:
    """Put entries into a new file; None where there are none, or no folder takes it."""
    lines = [entry_line(entry) for entry in entries]
    if not lines:
        return None
    content = "\n".join((_HEAD, *lines, "")).encode("ascii")
    for folder, stem in _places(log):
        with suppress(OSError):
            return _write(folder, f"{stem}{now:%Y%m%dT%H%M%S%f}", content)
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftByEarlierRuns:
    """What earlier runs could not write, the oldest first, each file as one entry; and files that cannot be read, which
    stay where they are.
    """

    entries: tuple[Rescued, ...] = ()
    unreadable: tuple[Path, ...] = ()


def left_by_earlier_runs(log: Path) -> LeftByEarlierRuns:
    """Look for what earlier runs could not write."""
    read = [(path, _read(path)) for path in rescue_files(log)]
    return LeftByEarlierRuns(
        entries=tuple(one for _, one in read if one is not None),
        unreadable=tuple(path for path, one in read if one is None),
    )


def rescue_files(log: Path) -> tuple[Path, ...]:
    """The files that earlier runs left for a log, the oldest first. A file of somebody else's is none."""
    found: list[Path] = []
    for folder, stem in _places(log):
        with suppress(OSError):
            found += [path for path in folder.glob(f"{stem}*{_ENDING}") if _is_ours(path)]
    return tuple(sorted(found, key=lambda path: path.stem.rpartition("-")[2]))


def _places(log: Path) -> Iterator[tuple[Path, str]]:
    """Each folder that a file may lie in, and how its name begins there."""
    yield log.parent, f"{log.stem}-rescue-"
    elsewhere = f"homefret-rescue-{hashlib.sha256(str(log.absolute()).encode(errors='replace')).hexdigest()[:16]}-"
    with suppress(RuntimeError, OSError):
        yield Path.home(), elsewhere
    with suppress(OSError):
        yield Path(tempfile.gettempdir()), elsewhere


def _write(folder: Path, stem: str, content: bytes) -> Path:
    """All of it or nothing, and nothing in the place of another file. Raises `OSError`."""
    path = next(path for n in count() if not (path := folder / f"{stem}{n or ''}{_ENDING}").exists())
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWNER_ONLY)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return path


def _is_ours(path: Path) -> bool:
    """A plain file of this user's, whoever else may write into the folder."""
    found = path.lstat()
    mine = not hasattr(os, "getuid") or found.st_uid == os.getuid()
    return stat.S_ISREG(found.st_mode) and mine and found.st_size <= _MOST_BYTES


def _read(path: Path) -> Rescued | None:
    try:
        content = path.read_bytes()
        head, *lines = content.decode("ascii").splitlines()
        if head != _HEAD:
            return None
        entries = tuple(entry_of(line) for line in lines)
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None
    return Rescued(name=f"rescue {hashlib.sha256(content).hexdigest()}", path=path, entries=entries)
