"""What could not be written into the log until the game was left goes into a file, which the next start takes in.

The file lies beside the log; where that is refused, in the player's home, or in a folder of its own among the temporary
files: of these there may be tens of thousands, and each start looks for it. It is taken in once, in one transaction
with the note that it was, and goes when that is on the disk.
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
_ELSEWHERE = "homefret-rescue-"
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
    for place in _places(log):
        with suppress(OSError):
            if place.made:
                _make(place.folder)
            return _write(place.folder, f"{place.stem}{now:%Y%m%dT%H%M%S%f}", content)
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
    found = [
        Path(entry.path)
        for place in _places(log)
        for entry in _entries(place.folder)
        if entry.name.startswith(place.stem) and entry.name.endswith(_ENDING) and _is_ours(entry)
    ]
    return tuple(sorted(found, key=lambda path: path.stem.rpartition("-")[2]))


def let_go(path: Path) -> None:
    """A file that is in the log now goes, with the folder that was made for it. Raises `OSError`."""
    path.unlink(missing_ok=True)
    if path.parent.name.startswith(_ELSEWHERE):
        path.parent.rmdir()


@dataclass(frozen=True, slots=True)
class _Place:
    """A folder that a file may lie in, how its name begins there, and whether the folder is made for it."""

    folder: Path
    stem: str
    made: bool = False


def _places(log: Path) -> Iterator[_Place]:
    yield _Place(log.parent, f"{log.stem}-rescue-")
    elsewhere = _ELSEWHERE + hashlib.sha256(str(log.absolute()).encode(errors="replace")).hexdigest()[:16]
    with suppress(RuntimeError, OSError):
        yield _Place(Path.home(), f"{elsewhere}-")
    with suppress(OSError):
        yield _Place(Path(tempfile.gettempdir(), elsewhere), "rescue-", made=True)


def _entries(folder: Path) -> tuple["os.DirEntry[str]", ...]:
    """What lies in a folder; nothing where it cannot be looked into."""
    try:
        with os.scandir(folder) as found:
            return tuple(found)
    except OSError:
        return ()


def _make(folder: Path) -> None:
    """A folder that nobody else can write into or look into. Raises `OSError`, also where another has been quicker."""
    with suppress(FileExistsError):
        folder.mkdir(mode=stat.S_IRWXU)
    if not _is_mine(folder.lstat(), stat.S_IFDIR):
        raise PermissionError(folder)


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


def _is_ours(entry: "os.DirEntry[str]") -> bool:
    """A plain file of this user's, whoever else may write into the folder; none that has gone meanwhile."""
    try:
        found = entry.stat(follow_symlinks=False)
    except OSError:
        return False
    return _is_mine(found, stat.S_IFREG) and found.st_size <= _MOST_BYTES


def _is_mine(found: os.stat_result, kind: int) -> bool:
    mine = not hasattr(os, "getuid") or found.st_uid == os.getuid()
    return stat.S_IFMT(found.st_mode) == kind and mine


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
