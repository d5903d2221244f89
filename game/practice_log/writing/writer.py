"""The thread that writes the log, so that a frame never waits for a disk.

What it is given goes into a queue and is committed together with what comes in the next moments. What cannot be
written now (a full disk, a lock) stays in memory in order and is tried again; `trouble` says so in a sentence. One
faulty entry is left out and said, and never holds up the rest.
"""

import sqlite3
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from queue import Empty, SimpleQueue

from game.errors import LogError, reason_of
from game.message import Message, message
from game.practice_log.database.migrations import transaction
from game.practice_log.writing.entries import BeginTake, ContinueTake, EndTake, Entry, Numbers, ReopenTake, Rescued

COMMIT_AFTER_S = 0.1
"""How long entries are collected before they are committed: with the commit itself, under a quarter of a second."""

RETRY_AFTER_S = 0.5
_GIVE_UP_AFTER_S = 2.0
_AT_ONCE = 500
"""Entries in one transaction: what waited long is written in parts, each for good."""

_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
_OF_THE_FILE = (
    *_DAMAGED, sqlite3.SQLITE_FULL, sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_NOMEM, sqlite3.SQLITE_PROTOCOL,
)  # fmt: skip
"""What is no fault of the entry that was to be written."""
_KEEP_OPEN = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


@dataclass(frozen=True, slots=True)
class _Mark:
    """A point in the queue: everything before it has been tried when `passed` is set. The thread ends at the last."""

    last: bool = False
    passed: threading.Event = field(default_factory=threading.Event)


class Writer:
    """Writes entries in order. `open_store` is called on the writer's own thread, again after a fault; `take_written`
    there, too, whenever takes began or ended and are in the file.
    """

    def __init__(
        self,
        open_store: Callable[[], sqlite3.Connection],
        take_written: Callable[[sqlite3.Connection], None] = lambda _: None,
    ) -> None:
        self._open_store, self._take_written = open_store, take_written
        self._queue: SimpleQueue[Entry | _Mark] = SimpleQueue()
        self._connection: sqlite3.Connection | None = None
        self._waiting: list[Entry] = []
        self._trouble: Message | None = None
        self._left_out: Message | None = None
        self._hurry = threading.Event()
        self._begun: dict[int, ContinueTake] = {}
        self._writing = threading.Lock()
        self._gave_up = False
        self._refused: list[Entry] = []
        self.numbers: Numbers = {}
        self.put = self._queue.put
        self._thread = threading.Thread(target=self._run, name="practice-log", daemon=True)
        self._thread.start()

    @property
    def trouble(self) -> Message | None:
        """One sentence when the log is behind or left something out, None when all is well."""
        return self._trouble or self._left_out

    def left_out(self, entry: Entry) -> bool:
        """Whether an entry could not be written for a fault of its own."""
        return any(one is entry for one in self._refused)

    def flush(self, timeout_s: float) -> bool:
        """Wait until everything put so far has been tried. Whether it is all in the file."""
        return self._pass(_Mark(), timeout_s)

    def close(self, timeout_s: float) -> bool:
        """Write what can be written, and end. Whether it is all in the file."""
        return self._pass(_Mark(last=True), timeout_s)

    def give_up(self) -> tuple[Entry, ...]:
        """What could not be written until `close`, in order, with what it belongs to: from now on nothing of it is
        written. Nothing where this moment something is being written. Entries of an earlier run stay in their file, and
        takes of earlier runs are judged at the next start.
        """
        if not self._writing.acquire(timeout=_GIVE_UP_AFTER_S):
            return ()
        try:
            self._gave_up = True
            self._take_in()
            return tuple(self._to_rescue())
        finally:
            self._writing.release()

    def _to_rescue(self) -> Iterator[Entry]:
        known = set[int]()
        for entry in self._waiting:
            handle = getattr(entry, "handle", None)
            if isinstance(entry, Rescued | ReopenTake):
                continue
            if isinstance(entry, BeginTake):
                known.add(entry.handle)
            elif handle is not None and handle not in known:
                if handle not in self._begun:
                    continue
                known.add(handle)
                yield self._begun[handle]
            yield entry

    def _pass(self, mark: _Mark, timeout_s: float) -> bool:
        if self._thread.is_alive():
            self.put(mark)
            self._hurry.set()
            if not mark.passed.wait(timeout_s):
                return False
        return not self._waiting

    def _run(self) -> None:
        self._write(())
        while True:
            mark = self._collect()
            self._write_waiting()
            if mark is not None and mark.last:
                break
            if mark is not None:
                mark.passed.set()
        self._close_connection()
        mark.passed.set()

    def _collect(self) -> _Mark | None:
        """Take in entries for a moment, up to the next mark. Between the first and the last of a moment this thread
        sleeps on: waking for every note would cost the caller a change of threads.
        """
        if not self._waiting:
            try:
                item = self._queue.get(timeout=RETRY_AFTER_S if self._trouble else None)
            except Empty:
                return None
            if isinstance(item, _Mark):
                return item
            self._waiting.append(item)
        self._hurry.wait(RETRY_AFTER_S if self._trouble else COMMIT_AFTER_S)
        self._hurry.clear()
        return self._take_in()

    def _take_in(self) -> _Mark | None:
        """Everything in the queue by now, up to the next mark."""
        while True:
            try:
                item = self._queue.get_nowait()
            except Empty:
                return None
            if isinstance(item, _Mark):
                return item
            self._waiting.append(item)

    def _write_waiting(self) -> None:
        if self._trouble and not self._waiting:
            self._write(())
        while self._waiting and self._write(self._waiting[:_AT_ONCE]):
            del self._waiting[:_AT_ONCE]

    def _write(self, entries: list[Entry] | tuple[()]) -> bool:
        """Commit some entries. Whether that went well; if not, nothing of them is in the file."""
        with self._writing:
            return not self._gave_up and self._commit(entries)

    def _commit(self, entries: list[Entry] | tuple[()]) -> bool:
        numbers = dict(self.numbers)
        try:
            if self._connection is None:
                self._connection = self._open_store()
            if entries:
                with transaction(self._connection):
                    for entry in entries:
                        self._write_one(self._connection, entry, numbers)
        except (LogError, OSError, sqlite3.Error) as error:
            self._trouble = trouble_of(error)
            if not (isinstance(error, sqlite3.Error) and _code(error) in _KEEP_OPEN):
                self._close_connection()
            return False
        self.numbers = numbers
        if any(isinstance(entry, BeginTake | EndTake | Rescued) for entry in entries):
            self._take_written(self._connection)
        for entry in entries:
            if isinstance(entry, BeginTake):
                begun = entry.begun
                self._begun[entry.handle] = ContinueTake(entry.handle, entry.device.uuid, begun.started_at)
        self._trouble = None
        return True

    def _write_one(self, connection: sqlite3.Connection, entry: Entry, numbers: Numbers) -> None:
        connection.execute("SAVEPOINT entry")
        try:
            entry.write(connection, numbers)
        except Exception as error:
            if isinstance(error, sqlite3.Error) and _code(error) in _OF_THE_FILE:
                raise
            connection.execute("ROLLBACK TO entry")
            self._refused.append(entry)
            self._left_out = message("log.one_left_out", entry=type(entry).__name__, fault=repr(error))
        connection.execute("RELEASE entry")

    def _close_connection(self) -> None:
        if self._connection is not None:
            self._connection.close()
            self._connection = None


def trouble_of(error: Exception) -> Message:
    """Why the log cannot be written, in one sentence."""
    if isinstance(error, LogError):
        return message("log.in_memory_until_then", fault=error)
    return message("log.cannot_be_written", reason=why_not_written(error))


def why_not_written(error: Exception) -> Message:
    """Why a file of ours cannot be written, in a few words."""
    if isinstance(error, sqlite3.Error) and _code(error) in _DAMAGED:
        return message("log.file_damaged")
    return reason_of(error)


def _code(error: sqlite3.Error) -> int:
    """The primary result code (SQLite, "Result and Error Codes"), 0 for an error of the module itself."""
    return getattr(error, "sqlite_errorcode", 0) & 0xFF
