"""Files dropped on the window: read in a thread each, for reading is a process of its own and takes about a second.

Whatever screen is there goes on; a take is not touched.
"""

import threading
from collections import deque
from dataclasses import dataclass
from pathlib import Path

from game.desk.words import as_sentence, say
from game.errors import HomefretError, SeveralPartsError, TuneError
from game.tunes.library import ShelfEntry, add


@dataclass(frozen=True, slots=True)
class PartsToChoose:
    """A file that waits to be told which of its parts is the melody; parts count from 1."""

    path: Path
    names: tuple[str, ...]

    @property
    def question(self) -> str:
        """What the player is asked."""
        listed = ", ".join(f"{number} {name}" for number, name in enumerate(self.names, start=1))
        return say("shelf.several_parts", file=self.path.name, parts=listed)


class Arrivals:
    """What was dropped and is being read, in turn. `newest` is what came on the shelf last."""

    def __init__(self) -> None:
        self._waiting: deque[tuple[Path, int | None]] = deque()
        self._reading: _Reading | None = None
        self.to_choose: PartsToChoose | None = None
        self.newest: ShelfEntry | None = None

    @property
    def busy(self) -> bool:
        """Whether a file is being read, or waits to be."""
        return self._reading is not None or bool(self._waiting)

    def drop(self, path: Path, part: int | None = None) -> str:
        """Begin to read a file, after those dropped before it. Returns the sentence to show."""
        if self.to_choose is not None and self.to_choose.path == path:
            self.to_choose = None
        self._waiting.append((path, part))
        return say("shelf.reading_file", file=path.name)

    def poll(self) -> str | None:
        """Look whether a file has been read; the sentence about it, or None. Costs nothing while reading."""
        said = self._finished() if self._reading is not None and self._reading.done else None
        if self._reading is None and self._waiting:
            self._reading = _Reading(*self._waiting.popleft())
        return said

    def _finished(self) -> str:
        assert self._reading is not None
        reading, self._reading = self._reading, None
        try:
            self.newest = reading.entry()
        except SeveralPartsError as error:
            self.to_choose = PartsToChoose(reading.path, error.names)
            return self.to_choose.question
        except HomefretError as error:
            return as_sentence(str(error))
        return say("shelf.added", title=self.newest.title)


class _Reading:
    """One file being read, from when it is made."""

    def __init__(self, path: Path, part: int | None) -> None:
        self.path = path
        self._part = part
        self._entry: ShelfEntry | None = None
        self._error: HomefretError | None = None
        self._thread = threading.Thread(target=self._read, name=f"reading {path.name}", daemon=True)
        self._thread.start()

    def _read(self) -> None:
        try:
            self._entry = add(self.path, part=self._part)
        except HomefretError as error:
            self._error = error
        except OSError as error:
            reason = error.strerror or error
            self._error = TuneError(f"{self.path.name} could not be put on the shelf ({reason}): nothing was changed")

    @property
    def done(self) -> bool:
        return not self._thread.is_alive()

    def entry(self) -> ShelfEntry:
        if self._error is not None:
            raise self._error
        assert self._entry is not None
        return self._entry
