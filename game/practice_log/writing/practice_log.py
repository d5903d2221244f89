"""The practice log as the app holds it: one object, whose methods cost the caller next to nothing."""

import sqlite3
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager, suppress
from datetime import datetime, timedelta
from functools import partial
from itertools import count
from pathlib import Path
from types import TracebackType
from typing import Any, Self
from uuid import UUID

from game.coach.decisions import Decision
from game.coach.events import Event, TakeResult
from game.errors import LogError, reason_of
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.message import Message, message
from game.music.names import Spelling
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.database.take_mark import keep_take_count
from game.practice_log.queries.take_queries import unfinished_takes
from game.practice_log.rows.entry_rows import About, us_of
from game.practice_log.rows.log_records import HelpGiven, LoggedTake, NameGiven, RawTake, TakeBegun, TakeEnded
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.writing.entries import (
    AddDecision,
    AddFact,
    AddHelp,
    AddName,
    AddPlayed,
    BeginTake,
    CheckClock,
    EndTake,
    ReopenTake,
    RevisePlayed,
)
from game.practice_log.writing.rescue import SpareHandle, left_by_earlier_runs, let_go, write_rescue
from game.practice_log.writing.writer import Writer

_CLOSE_S = 5.0
_FLUSH_S = 2.0
# Another device may still be in the middle of a take that was gathered from it; after a day it is not.
_ABANDONED_AFTER = timedelta(days=1)


class TakeHandle:
    """A take under way, as the log knows it. Times are on the master clock; the log counts them from `zero_s`."""

    def __init__(self, writer: Writer, number: int, zero_s: float, device: Identity) -> None:
        self._put, self._device = writer.put, device
        self.number = number
        self.zero_s = zero_s

    def played(self, note: PlayedNote) -> None:
        """A note was played, its input delay already taken out. Costs a few microseconds."""
        self._put(AddPlayed(self.number, note, self.zero_s))

    def revised(self, before: PlayedNote, after: PlayedNote | None) -> None:
        """A note that was played turned out to be another, or none: a slide arrived, a ghost was found out."""
        self._put(RevisePlayed(self.number, before, after, self.zero_s))

    def helped(self, n: int, step: HintStep, *, at_s: float) -> None:
        """Help was given with note `n`."""
        self._put(AddHelp(self.number, HelpGiven(n=n, step=step, at_s=at_s - self.zero_s)))

    def named(self, n: int, name: Spelling, *, at_s: float) -> None:
        """A name was given for note `n` in `letters`."""
        self._put(AddName(self.number, NameGiven(n=n, name=name, at_s=at_s - self.zero_s)))

    def said(self, n: int, *, said_right: bool, at_s: float) -> None:
        """The name of note `n` was said aloud, and the player told whether it was right."""
        given = NameGiven(n=n, name=None, at_s=at_s - self.zero_s, said_right=said_right)
        self._put(AddName(self.number, given))

    def end(self, ended: TakeEnded, *, counted_from_s: float | None = None) -> None:
        """The take is over and judged. The times of its answers count from `counted_from_s`: by default they are on
        the master clock; say 0 for a judge that was given notes counted from the take's time 0.
        """
        self._put(EndTake(self.number, ended, self.zero_s if counted_from_s is None else counted_from_s, self._device))


class PracticeLog:
    """The log in the file `path`, written by a thread of its own from now on. `before` are ids of devices that this one
    was until it became `device`.

    `now` tells the time on the wall, in the player's zone; `last_at` is when something was heard or said last. Nothing
    here raises for a file that cannot be written: `trouble` says so, practice is kept in memory, and is written once it
    can be.
    """

    def __init__(
        self,
        path: Path,
        *,
        device: Identity,
        before: Collection[UUID] = (),
        now: Callable[[], datetime],
        opener: Callable[[], sqlite3.Connection] | None = None,
    ) -> None:
        self.device, self._before = device, before
        self._open = opener or (lambda: open_store(path, now_utc=now()))
        self._writer = Writer(self._open, partial(keep_take_count, path))
        self._handles = count(1)
        self.last_at: datetime | None = None
        # Where the system has none left at the end, this one is for the file of what could not be written.
        self._spare = SpareHandle()
        self._path, self._now = path, now
        left = left_by_earlier_runs(path)
        self._rescued, self._unreadable = left.entries, left.unreadable
        for one in self._rescued:
            self._writer.put(one)

    @property
    def trouble(self) -> Message | None:
        """One sentence for the player when the log cannot be written, None when all is well. Ask it now and then."""
        if self._writer.trouble is None and self._unreadable:
            return message("log.rescue_unreadable", file=self._unreadable[0])
        return self._writer.trouble

    def begin_take(self, begun: TakeBegun, *, zero_s: float) -> TakeHandle:
        """A take begins; its time 0 is `zero_s` on the master clock."""
        handle = TakeHandle(self._writer, next(self._handles), zero_s, self.device)
        self._writer.put(BeginTake(handle.number, begun, self.device))
        return handle

    def reopen_take(self, logged: LoggedTake) -> TakeHandle:
        """A take that was cut short, to be given its ending now; times count from its own time 0."""
        handle = TakeHandle(self._writer, next(self._handles), 0.0, self.device)
        self._writer.put(ReopenTake(handle.number, logged.take))
        return handle

    def decision(
        self, event: Event, decision: Decision, *, player: Identity, at: datetime, take: TakeHandle | None = None
    ) -> None:
        """What the coach heard and said. A `TakeResult` comes with its `take` and is what `coach_result` makes of it:
        the log keeps the verdicts, not the result. Raises `ValueError` for a result without a take.
        """
        if isinstance(event, TakeResult) and take is None:
            raise ValueError("a take's result is logged with the take it came from")
        handle = take.number if isinstance(event, TakeResult) and take else None
        self.last_at = at
        self._writer.put(AddDecision(player, self.device, at, event, decision, handle))

    def fact(
        self, about: About, content: Mapping[str, Any], *, player: Identity, at: datetime, of_file: bool = False
    ) -> None:
        """The player said, chose or met something. `content` is what JSON can say. `of_file`: so says a file beside the
        log that was written `at` that time, and not later than now.
        """
        if not of_file:
            self.last_at = at
        self._writer.put(AddFact(player, self.device, at, about, content, of_file))

    def check_clock(self, *, player: Identity, at: datetime) -> None:
        """It is now `at`: where this device recorded things for later than that, its clock was wrong, and is right."""
        self._writer.put(CheckClock(player, self.device, at))

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection for the questions in `queries.take_queries`, on which everything written so far is seen.

        Never during a take: it waits for the writer, unless that is in trouble; then only what is in the file is
        seen. Raises `LogError` where the file cannot be read.
        """
        if self._writer.trouble is None:
            self._writer.flush(_FLUSH_S)
        try:
            connection = self._open()
        except (sqlite3.Error, OSError) as error:
            raise LogError("log.unreadable", fault=reason_of(error)) from error
        try:
            yield connection
        finally:
            connection.close()

    def unfinished_takes(self, *, at: datetime | None = None) -> tuple[tuple[LoggedTake, RawTake], ...]:
        """The takes of this device that were cut short when the program was killed, with all that was done in them; and
        those of other devices begun more than a day before `at`, where that is given.

        Takes begun in this run are left out. Judge each again (`cut_short`), `reopen_take`, and `end` it.
        """
        mine, abandoned_us = (self.device.uuid, *self._before), us_of(at - _ABANDONED_AFTER) if at else 0
        with self.reading() as connection:
            own = set(self._writer.numbers.values())
            cut_short = [take for take in unfinished_takes(connection, mine, abandoned_us) if take.take not in own]
            return tuple((take, raw_take(connection, take.take)) for take in cut_short)

    def flush(self, timeout_s: float = _FLUSH_S) -> bool:
        """Wait until everything so far has been tried. Whether it is all in the file."""
        return self._let_rescued_go(written=self._writer.flush(timeout_s))

    def _let_rescued_go(self, *, written: bool) -> bool:
        """What an earlier run could not write is in the log now: its files go. Returns `written`."""
        if written:
            for one in (one for one in self._rescued if not self._writer.left_out(one)):
                # One that cannot go is known by its content, and not taken in again.
                with suppress(OSError):
                    let_go(one.path)
            self._rescued = ()
        return written

    def close(self, timeout_s: float = _CLOSE_S) -> Message | None:
        """Write what can be written, and end. What cannot goes into a file that the next start takes in: a sentence
        says so.
        """
        if self._let_rescued_go(written=self._writer.close(timeout_s)):
            self._spare.free()
            return None
        trouble = self._writer.trouble or message("log.not_written_in_time")
        left = self._writer.give_up()
        self._spare.free()
        path = write_rescue(self._path, left, now=self._now())
        if path is not None:
            return _rescued_into(path, trouble)
        return trouble if left or not self._rescued else _rescued_into(self._rescued[0].path, trouble)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _rescued_into(path: Path, trouble: Message) -> Message:
    """Why the log could not be written, and where what was played lies now."""
    told = dict(trouble.values)
    return message("log.rescued", reason=told.get("reason", told.get("fault", trouble)), file=path)
