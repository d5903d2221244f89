"""Files and folders dropped on the window: read one at a time in a thread, which asks a reading process of its own.

Whatever screen is there goes on; a take is not touched, and no frame waits.
"""

import threading
from collections import deque
from pathlib import Path
from typing import TYPE_CHECKING

from game.message import Message
from game.tunes.library.import_results import (
    Added,
    ImportDone,
    ImportNews,
    ImportProgress,
    ImportRefused,
    ImportStarted,
    NotAdded,
    PartsToChoose,
)
from game.tunes.library.shelf_entry import ShelfEntry

if TYPE_CHECKING:
    from game.tunes.library.adding import Adder


class ImportQueue:
    """What was dropped and is being read. `newest` is the tune that came on the shelf last, `last` the last dropping
    that brought any, `refused` the last of which something was not read. `to_choose` is the score whose part is asked
    for; of others that wait for the same answer the one that was dropped last comes next.
    """

    def __init__(self) -> None:
        self._waiting: list[tuple[Path, int | None]] = []
        self._reading: ImportJob | None = None
        self.to_choose: PartsToChoose | None = None
        self._asked_later: list[PartsToChoose] = []
        self._asks_anew = False
        self.newest: ShelfEntry | None = None
        self.last: ImportDone | None = None
        self.refused: ImportDone | ImportRefused | None = None
        self._told: ImportStarted | ImportProgress | None = None

    @property
    def going_on(self) -> ImportStarted | ImportProgress | None:
        """How far the reading has come; None where nothing is read."""
        return self._told if self.busy else None

    @property
    def busy(self) -> bool:
        """Whether a file is being read, or waits to be."""
        return self._reading is not None or bool(self._waiting)

    def drop(self, path: Path, part: int | None = None) -> ImportStarted:
        """Begin to read a file or folder, after those dropped before it."""
        self._asked_later = [asked for asked in self._asked_later if asked.path != path]
        if self.to_choose is not None and self.to_choose.path == path:
            self.let_go()
        self._waiting.append((path, part))
        started = ImportStarted(path)
        if not isinstance(self.going_on, ImportProgress):
            self._told = started
        return started

    def let_go(self) -> None:
        """Ask no more which part of the score at hand is meant, but of the next that waits for that."""
        self.to_choose = self._asked_later.pop() if self._asked_later else None
        self._asks_anew = self.to_choose is not None

    def leave(self) -> None:
        """Read nothing more of what was dropped: the file at hand is let go, those that came stay."""
        self._waiting = []
        if self._reading is not None:
            self._reading.leave()

    def poll(self) -> ImportNews | None:
        """Look how far the reading has come; None where there is nothing new. Costs nothing while reading."""
        news: ImportNews | None = None
        if self._reading is not None:
            news = self._reading.progress()
            self._told = news or self._told
            if self._reading.done:
                news = self._finished(self._reading)
                self._reading = None
        if self._reading is None and self._waiting:
            self._reading = ImportJob(self._waiting)
            self._waiting = []
        if news is None and self._asks_anew and not self.busy:
            self._asks_anew = False
            news = self.to_choose
        return news

    def _finished(self, job: "ImportJob") -> PartsToChoose | ImportDone | ImportRefused:
        outcome = job.outcome()
        if isinstance(outcome, PartsToChoose):
            if self.to_choose is not None:
                self._asked_later.append(self.to_choose)
            self.to_choose = outcome
        if isinstance(outcome, ImportDone):
            self.last, self.newest = outcome, outcome.entries[-1]
        if not isinstance(outcome, PartsToChoose) and outcome.faults:
            self.refused = outcome
        return outcome


class ImportJob:
    """What was dropped at once, being read from when it is made."""

    def __init__(self, dropped: list[tuple[Path, int | None]]) -> None:
        self._dropped = dropped
        self._progress: deque[ImportProgress] = deque(maxlen=1)
        self._files = 0
        self._entries: dict[str, ShelfEntry] = {}
        self._faults: list[Message] = []
        self._notes: list[Message] = []
        self._to_choose: PartsToChoose | None = None
        self._left = threading.Event()
        self._looked_into = 0
        self._adder: Adder | None = None
        # A daemon: leaving the game does not wait for a folder to be read.
        self._thread = threading.Thread(target=self._read, name="import", daemon=True)
        self._thread.start()

    def progress(self) -> ImportProgress | None:
        """Which file of how many is being read, once for each."""
        return self._progress.popleft() if self._progress else None

    @property
    def done(self) -> bool:
        """Whether all of it was read."""
        return not self._thread.is_alive()

    def leave(self) -> None:
        """Stop after the file at hand, whose reading is ended."""
        self._left.set()
        if self._adder is not None:
            self._adder.interrupt()

    def outcome(self) -> PartsToChoose | ImportDone | ImportRefused:
        """What came of it. Ask when it is done."""
        faults, notes = tuple(self._faults), tuple(self._notes)
        if self._to_choose is not None:
            return self._to_choose
        unread = self._files - self._looked_into
        if not self._entries:
            return ImportRefused(faults, unread)
        entries = tuple(self._entries.values())
        return ImportDone(entries=entries, files=self._files, faults=faults, notes=notes, unread=unread)

    def _read(self) -> None:
        # The first frame waits for none of the reading.
        from game.tunes.library.adding import Adder, files_in  # noqa: PLC0415

        files: list[tuple[Path, int | None]] = []
        for path, part in self._dropped:
            found = files_in([path], lambda: not self._left.is_set())
            files += [(file, part) for file in found.files]
            self._faults += [one.fault for one in found.faults]
        self._files = len(files)
        with Adder(asks=len(files) == 1) as self._adder:
            for number, (file, part) in enumerate(files, start=1):
                if self._left.is_set():
                    return
                if len(files) > 1:
                    self._progress.append(ImportProgress(path=file, number=number, count=len(files)))
                for one in self._adder.added(file, part):
                    if self._left.is_set() and not isinstance(one, Added):
                        # It is no fault of the file that its reading was ended.
                        return
                    self._take(one)
                self._looked_into = number

    def _take(self, one: Added | NotAdded) -> None:
        if isinstance(one, Added):
            self._entries[one.entry.name] = one.entry
            self._notes += [one.note] if one.note else []
        elif one.names:
            self._to_choose = PartsToChoose(one.path, one.names)
        else:
            self._faults.append(one.fault)
