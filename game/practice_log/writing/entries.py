"""What is on its way into the log. Each entry is made on the caller's thread, as cheaply as can be, and written on
the log's own.
"""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol
from uuid import UUID

from game.coach.decisions import Decision
from game.coach.events import Event
from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Judgement
from game.practice_log.database.identity import Identity
from game.practice_log.rows.decision_rows import put_decision
from game.practice_log.rows.entry_rows import About, Recorded, check_clock, put_fact, put_fact_of_file
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import HelpGiven, NameGiven, TakeBegun, TakeEnded
from game.practice_log.rows.played_rows import put_help, put_name, put_played, revise_played
from game.practice_log.rows.row_values import utc_text
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take

Numbers = dict[int, int]
"""The number in the log of each take that was begun in this run, by the number of its handle."""


class Entry(Protocol):
    """Something to be written."""

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Write it within the transaction under way."""
        ...


@dataclass(frozen=True, slots=True)
class BeginTake:
    """A take begins."""

    handle: int
    begun: TakeBegun
    device: Identity

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Add the take."""
        numbers[self.handle] = put_take(connection, self.begun, self.device)


@dataclass(frozen=True, slots=True)
class ReopenTake:
    """A take of an earlier run is taken up again; `take` is its number in the log."""

    handle: int
    take: int

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Remember which take the handle is. Raises `ValueError` for a take that is not in this log."""
        if connection.execute("SELECT 1 FROM take WHERE take = ?", (self.take,)).fetchone() is None:
            raise ValueError(f"there is no take {self.take} in this log")
        numbers[self.handle] = self.take


@dataclass(frozen=True, slots=True)
class ContinueTake:
    """What follows belongs to a take that was begun on this device at that time, in an earlier run."""

    handle: int
    device: UUID
    started_at: datetime

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Find the take. Raises `ValueError` where it is not in this log."""
        found = connection.execute(
            "SELECT take FROM take JOIN device USING (device) WHERE uuid = ? AND started_utc = ? ORDER BY take",
            (str(self.device), utc_text(self.started_at)),
        ).fetchone()
        if found is None:
            raise ValueError("the take that this belongs to is not in this log")
        numbers[self.handle] = found[0]


@dataclass(slots=True)
class AddPlayed:
    """A note was played; its take began at `zero_s` on the note's clock. Not frozen: freezing triples the cost."""

    handle: int
    note: PlayedNote
    zero_s: float

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Add the note."""
        put_played(connection, numbers[self.handle], counted_from(self.note, self.zero_s))


@dataclass(frozen=True, slots=True)
class RevisePlayed:
    """A played note turned out to be another, or none."""

    handle: int
    before: PlayedNote
    after: PlayedNote | None
    zero_s: float

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Put it right; a note that is not there is left alone."""
        after = self.after and counted_from(self.after, self.zero_s)
        revise_played(connection, numbers[self.handle], counted_from(self.before, self.zero_s), after)


@dataclass(frozen=True, slots=True)
class AddHelp:
    """Help was given."""

    handle: int
    given: HelpGiven

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Add the help."""
        put_help(connection, numbers[self.handle], self.given)


@dataclass(frozen=True, slots=True)
class AddName:
    """A name was given."""

    handle: int
    given: NameGiven

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Add the name."""
        put_name(connection, numbers[self.handle], self.given)


@dataclass(frozen=True, slots=True)
class EndTake:
    """A take is over, and judged on `device`; the notes of its judgement count from `zero_s`."""

    handle: int
    ended: TakeEnded
    zero_s: float
    device: Identity

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Add the judgement."""
        ended = self.ended
        if ended.judgement is not None:
            ended = replace(ended, judgement=_from_zero(ended.judgement, self.zero_s))
        put_ending(connection, numbers[self.handle], ended, self.device)


@dataclass(frozen=True, slots=True)
class AddDecision:
    """The coach heard something and decided. `handle` is the take of a `TakeResult`."""

    player: Identity
    device: Identity
    at: datetime
    event: Event
    decision: Decision
    handle: int | None

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:
        """Add event and decision."""
        take = None if self.handle is None else numbers[self.handle]
        put_decision(
            connection, _recorded(connection, self.player, self.device, self.at), self.event, self.decision, take
        )


@dataclass(frozen=True, slots=True)
class AddFact:
    """The player said, chose or met something; `of_file` where a file beside the log says so."""

    player: Identity
    device: Identity
    at: datetime
    about: About
    content: Mapping[str, Any]
    of_file: bool = False

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:  # noqa: ARG002 - of no take
        """Add the fact."""
        put = put_fact_of_file if self.of_file else put_fact
        put(connection, _recorded(connection, self.player, self.device, self.at), self.about, self.content)


@dataclass(frozen=True, slots=True)
class CheckClock:
    """Before anything is made of the log: is the clock where it should be?"""

    player: Identity
    device: Identity
    at: datetime

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:  # noqa: ARG002 - of no take
        """Record where it is not. A device that has recorded nothing yet has nothing that could be of later."""
        recorded = "SELECT 1 FROM entry JOIN device USING (device) WHERE uuid = ? LIMIT 1"
        if connection.execute(recorded, (str(self.device.uuid),)).fetchone() is None:
            return
        check_clock(connection, _recorded(connection, self.player, self.device, self.at))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescued:
    """What an earlier run could not write, from the file `path`; `name` is told by its content."""

    name: str
    path: Path
    entries: tuple[Entry, ...]

    def write(self, connection: sqlite3.Connection, numbers: Numbers) -> None:  # noqa: ARG002 - its takes are its own
        """Write all of it, unless it was written already. What makes no sense in this log is left out."""
        if connection.execute("SELECT 1 FROM taken_in WHERE name = ?", (self.name,)).fetchone() is not None:
            return
        connection.execute("INSERT INTO taken_in (name, holds) VALUES (?, '{}')", (self.name,))
        own: Numbers = {}
        for entry in self.entries:
            connection.execute("SAVEPOINT rescued")
            try:
                entry.write(connection, own)
            except (LookupError, ValueError, TypeError, sqlite3.IntegrityError):
                connection.execute("ROLLBACK TO rescued")
            connection.execute("RELEASE rescued")


def _recorded(connection: sqlite3.Connection, player: Identity, device: Identity, at: datetime) -> Recorded:
    return Recorded(put_device(connection, device), put_player(connection, player), at)


def counted_from(note: PlayedNote, zero_s: float) -> PlayedNote:
    """The note with its time counted from `zero_s`."""
    if not zero_s:
        return note
    arrived_s = None if note.arrived_s is None else note.arrived_s - zero_s
    return replace(note, started_s=note.started_s - zero_s, arrived_s=arrived_s)


def _from_zero(judgement: Judgement, zero_s: float) -> Judgement:
    return replace(
        judgement,
        verdicts=tuple(
            replace(verdict, answers=tuple(counted_from(note, zero_s) for note in verdict.answers))
            for verdict in judgement.verdicts
        ),
        extra=tuple(counted_from(note, zero_s) for note in judgement.extra),
    )
