"""Files and folders dropped on the window: read one at a time in a thread, which asks a reading process of its own.

Whatever screen is there goes on; a take is not touched, and no frame waits.
"""

import threading
from collections import deque
from dataclasses import dataclass
from pathlib import Path

from game.errors import HomefretError
from game.text.catalogue import as_sentence, say, tell
from game.tunes.library.library import ShelfEntry

# Parts are chosen by a digit, and a question of more is not read.
_MOST_ASKED = 9


@dataclass(frozen=True, slots=True)
class PartsToChoose:
    """A file that waits to be told which of its parts is the melody; parts count from 1."""

    path: Path
    names: tuple[str, ...]

    @property
    def question(self) -> str:
        """What the player is asked."""
        listed = ", ".join(f"{number} {name}" for number, name in enumerate(self.names[:_MOST_ASKED], start=1))
        return say("shelf.several_parts", file=self.path.name, parts=listed)


@dataclass(frozen=True, slots=True)
class Arrived:
    """What one dropping came to: the tunes now on the shelf, how many files were read, and how many refused."""

    entries: tuple[ShelfEntry, ...]
    files: int
    refused: int

    @property
    def several(self) -> bool:
        """Whether this was more than one file, or a book of tunes: then none of them is opened by itself."""
        return self.files > 1 or len(self.entries) > 1


class ImportQueue:
    """What was dropped and is being read. `newest` is the tune that came on the shelf last, `last` the last dropping
    that is over.
    """

    def __init__(self) -> None:
        self._waiting: list[tuple[Path, int | None]] = []
        self._reading: ImportJob | None = None
        self.to_choose: PartsToChoose | None = None
        self.newest: ShelfEntry | None = None
        self.last: Arrived | None = None

    @property
    def busy(self) -> bool:
        """Whether a file is being read, or waits to be."""
        return self._reading is not None or bool(self._waiting)

    def drop(self, path: Path, part: int | None = None) -> str:
        """Begin to read a file or folder, after those dropped before it. Returns the sentence to show."""
        if self.to_choose is not None and self.to_choose.path == path:
            self.to_choose = None
        self._waiting.append((path, part))
        return say("shelf.reading_file", file=path.name)

    def poll(self) -> str | None:
        """Look how far the reading has come; the sentence about it, or None. Costs nothing while reading."""
        said = None
        if self._reading is not None:
            said = self._reading.progress()
            if self._reading.done:
                said = self._finished(self._reading)
                self._reading = None
        if self._reading is None and self._waiting:
            self._reading = ImportJob(self._waiting)
            self._waiting = []
        return said

    def _finished(self, dropping: "ImportJob") -> str:
        entries = tuple({entry.name: entry for entry in dropping.entries}.values())
        arrived = Arrived(entries=entries, files=dropping.files, refused=len(dropping.faults))
        self.last = arrived
        self.newest = entries[-1] if entries else self.newest
        if dropping.to_choose is not None:
            self.to_choose = dropping.to_choose
            return dropping.to_choose.question
        fault = as_sentence(dropping.faults[0]) if dropping.faults else ""
        if not entries:
            return fault or say("shelf.nothing_there")
        title = entries[-1].title
        came = say("shelf.added", title=title) if len(entries) == 1 else say("shelf.added_many", count=len(entries))
        not_read = (say("shelf.not_read", refused=len(dropping.faults), fault=fault),) if fault else ()
        return " ".join((came, *dropping.notes[:1], *not_read))


class ImportJob:
    """What was dropped at once, being read from when it is made."""

    def __init__(self, dropped: list[tuple[Path, int | None]]) -> None:
        self._dropped = dropped
        self._progress: deque[str] = deque(maxlen=1)
        self.files = 0
        self.entries: list[ShelfEntry] = []
        self.faults: list[str] = []
        self.notes: list[str] = []
        self.to_choose: PartsToChoose | None = None
        # A daemon: leaving the game does not wait for a folder to be read.
        self._thread = threading.Thread(target=self._read, name="reading what was dropped", daemon=True)
        self._thread.start()

    def progress(self) -> str | None:
        """Which file of how many is being read, once for each."""
        return self._progress.popleft() if self._progress else None

    @property
    def done(self) -> bool:
        return not self._thread.is_alive()

    def _read(self) -> None:
        # The first frame waits for none of the reading.
        from game.tunes.library.adding import Adder, files_in  # noqa: PLC0415

        try:
            files = [(file, part) for path, part in self._dropped for file in files_in([path])]
        except HomefretError as error:
            self.faults.append(tell(error.message))
            return
        except OSError as error:
            self.faults.append(f"what was dropped cannot be looked into ({error.strerror or error}); drop it again")
            return
        self.files = len(files)
        with Adder(asks=len(files) == 1) as adder:
            for number, (file, part) in enumerate(files, start=1):
                if len(files) > 1:
                    self._progress.append(say("shelf.reading_many", n=number, count=len(files), file=file.name))
                for added in adder.added(file, part):
                    if added.entry is not None:
                        self.entries.append(added.entry)
                    elif added.names:
                        self.to_choose = PartsToChoose(file, added.names)
                    else:
                        self.faults.append(added.fault)
                    if added.note:
                        self.notes.append(added.note)
