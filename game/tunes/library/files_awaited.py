"""Files that somebody waits for: read into the library one at a time in a thread, while everything else goes on.

Unlike what is dropped on the window they are asked for by whoever needs them, and come back to them.
"""

import threading
from collections import deque
from collections.abc import Hashable
from dataclasses import dataclass
from pathlib import Path

from game.paths import file_called
from game.tunes.library.library import add
from game.tunes.library.shelf_entry import ShelfEntry


@dataclass(frozen=True, slots=True)
class FileCame:
    """A file that was waited for: by what it was asked for, and its entry in the library; None where it could not be
    read.
    """

    path: Path
    asked_for: Hashable
    entry: ShelfEntry | None


class FilesAwaited:
    """What is waited for, in the order in which it was asked for."""

    def __init__(self) -> None:
        self._left: deque[tuple[Path, Hashable]] = deque()
        self._came: deque[FileCame] = deque()
        self._asked: set[tuple[Path, Hashable]] = set()
        self._thread: threading.Thread | None = None

    @property
    def busy(self) -> bool:
        """Whether something is read, or came and was not taken yet."""
        return bool(self._asked)

    def ask(self, path: Path, asked_for: Hashable) -> None:
        """Read a file; one that is being read for the same already is not read twice."""
        if (path, asked_for) in self._asked:
            return
        self._asked.add((path, asked_for))
        self._left.append((path, asked_for))
        if self._thread is None or not self._thread.is_alive():
            self._begin()

    def take(self) -> tuple[FileCame, ...]:
        """What came since this was asked last, nothing while none did. Costs nothing while reading."""
        came = tuple(self._came.popleft() for _ in range(len(self._came)))
        self._asked.difference_update((one.path, one.asked_for) for one in came)
        if self._left and self._thread is not None and not self._thread.is_alive():
            # It was asked for while the thread was about to end.
            self._begin()
        return came

    def _begin(self) -> None:
        # A daemon: leaving the game does not wait for a disk.
        self._thread = threading.Thread(target=self._read, name="awaited-files", daemon=True)
        self._thread.start()

    def _read(self) -> None:
        while self._left:
            path, asked_for = self._left.popleft()
            try:
                entry = add(file_called(path.parent, path.name))
            except Exception:  # noqa: BLE001 - whatever nobody foresaw ends one file, and none of the others
                entry = None
            self._came.append(FileCame(path, asked_for, entry))
