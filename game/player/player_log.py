"""The practice log for the screens: what is played goes into it as it comes, what was made of it at the end."""

from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from game.clock import wall_time
from game.coach.decisions import Decision
from game.coach.events import Event
from game.errors import LogError
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources import computer_keys
from game.instrument.sources.note_sources import PlayedOn, played_on
from game.judging.untimed import HintStep
from game.judging.version import JUDGE_VERSION
from game.message import Message
from game.music.names import Spelling
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.player.known_by_ear import tune_id
from game.player.player_facts import PlayerFacts
from game.player.profiles import LOG_FILE
from game.practice.finished_take import Finished, FinishedNaming, FinishedTake
from game.practice_log.back_ups.automatic import forget_longer_back_ups
from game.practice_log.back_ups.recovery import found_damage
from game.practice_log.database.identity import Identity
from game.practice_log.database.in_use import InUse
from game.practice_log.database.opening import open_own
from game.practice_log.database.own_device import own_device
from game.practice_log.database.own_player import own_player
from game.practice_log.database.store import Connection
from game.practice_log.queries.facts import facts_about
from game.practice_log.queries.take_queries import has_takes
from game.practice_log.queries.take_sightings import sighting_now
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.log_records import InstrumentUsed, Outcome, Sighting, TakeBegun, TakeEnded, Terms
from game.practice_log.rows.take_beginning import take_begun
from game.practice_log.writing.cut_short import ending_of
from game.practice_log.writing.practice_log import PracticeLog, TakeHandle

# Which instrument it is, the first note tells.
_UNKNOWN_YET = InstrumentUsed(name="", kind=PlayedOn.GUITAR)


class PlayerLog:
    """One player's log in a folder, and the `facts` of it. `now` tells the time on the wall, in the player's zone.

    `damage` is what was found wrong with it at the start; None where nothing was.
    """

    def __init__(self, folder: Path, now: Callable[[], datetime] = wall_time) -> None:
        self.path = folder / LOG_FILE
        self._now = now
        self.damage = found_damage(self.path)
        # Of a log that is damaged, nothing is asked: who plays stands beside it, too.
        self.player = self._own_player()
        device = own_device(folder)
        self._practice_log = PracticeLog(self.path, device=device, before=device.uuids[1:], now=now, opener=self._open)
        self.facts = PlayerFacts(folder, self._practice_log, lambda: self.player, now)
        self._in_use: InUse | None = None

    def read_anew(self) -> None:
        """Entries came into the log from elsewhere: a log in which nothing was is that of who brought them, too."""
        self.player = self._own_player()
        self.facts.read_anew()

    def _own_player(self) -> Identity:
        return own_player(self.path if self._usable else self.path.with_name("none"))

    @property
    def _usable(self) -> bool:
        return self.damage is None or self.damage.usable

    def _open(self) -> Connection:
        """Open the log. One that is damaged stays as it is: what is played is kept in memory until it is put right."""
        if self.damage is not None and not self.damage.usable:
            raise LogError(self.damage.damage.told)
        return open_own(self.path, now=self._now())

    def leave_damaged(self) -> None:
        """The player goes on without putting the log right. One that only lacks what a back-up holds is used as it is,
        and that is not said again.
        """
        if self.damage is not None and self.damage.usable:
            forget_longer_back_ups(self.path)
            self.damage = None

    @property
    def device_id(self) -> UUID:
        """By what this computer and folder are known in the log."""
        return self._practice_log.device.uuid

    def now(self) -> datetime:
        """The time on the wall."""
        return self._now()

    @property
    def day(self) -> int:
        """Today where the player is, counted from the first of January of year 1."""
        return self._now().date().toordinal()

    def lock(self) -> None:
        """Let nobody put another log in the place of this one until it is closed."""
        self._in_use = self._in_use or InUse(self.path)

    def reading(self) -> AbstractContextManager[Connection]:
        """A connection for the questions in `practice_log.queries`, on which everything written so far is seen.

        Never during a take. Raises `LogError` where the file cannot be read.
        """
        return self._practice_log.reading()

    @property
    def has_takes(self) -> bool:
        """Whether anything was ever played; True where that cannot be read. Never during a take."""
        try:
            with self.reading() as connection:
                return has_takes(connection)
        except LogError:
            return True

    def recorder(
        self,
        passage: Passage,
        neck_map: NeckMap,
        terms: Terms,
        *,
        zero_s: float,
        instrument: InstrumentUsed | None = None,
    ) -> "LogTakeRecorder":
        """A take that may begin: it is in the log from its first note on, and played on what gave that. `instrument` is
        what it is played on where something else comes first. Not to be asked for during a take.
        """
        begun = take_begun(
            passage,
            neck_map,
            terms,
            started_at=self._now(),
            player=self.player,
            instrument=instrument or _UNKNOWN_YET,
            sighting=self.sighting(passage),
        )
        begun = replace(begun, tune=tune_id(passage))
        return LogTakeRecorder(self._practice_log, begun, zero_s, self._now, lambda: self._as_it_begins(begun, passage))

    def record_decision(
        self, event: Event, decision: Decision, *, at: datetime, take: "LogTakeRecorder | None" = None
    ) -> None:
        """What the coach heard and said at a time, which is on the day of the event."""
        handle = take.handle if take else None
        self._practice_log.decision(event, decision, player=self.player, at=at, take=handle)

    def record_fact(self, about: About, content: Mapping[str, Any], *, of_file_at: datetime | None = None) -> None:
        """The player says something, or a file beside the log said it that was written at that time."""
        at, of_file = of_file_at or self._now(), of_file_at is not None
        self._practice_log.fact(about, content, player=self.player, at=at, of_file=of_file)

    def sighting(self, passage: Passage) -> Sighting:
        """How a take of these bars that begins now finds them; where the log cannot be read, as if they were new."""
        heard, known = self.facts.has_heard(passage), self.facts.knows_by_ear(passage)
        try:
            with self.reading() as connection:
                folded = sighting_now(connection, self.player.uuid, passage)
        except LogError:
            return Sighting(heard=heard, known_by_ear=known)
        return replace(folded, heard=folded.heard or heard, known_by_ear=known)

    def _as_it_begins(self, begun: TakeBegun, passage: Passage) -> TakeBegun:
        """A take as it begins with its first note: its page lay open for a while, and things were said since. It stands
        after them, and never in a time that has not come yet.
        """
        said_at = self._practice_log.last_at
        started_at = begun.started_at if said_at is None else max(begun.started_at, said_at)
        sighting = replace(
            begun.sighting,
            heard=begun.sighting.heard or self.facts.has_heard(passage),
            known_by_ear=self.facts.knows_tune(begun.tune),
        )
        return replace(begun, sighting=sighting, started_at=min(started_at, self._now()))

    def check_clock(self) -> bool:
        """See that nothing this computer recorded is of later than now: else its clock was wrong, and that is said.
        Returns whether that was ever said of any clock; no where the log cannot be read.
        """
        self._practice_log.check_clock(player=self.player, at=self._now())
        try:
            with self.reading() as connection:
                return any(True for _ in facts_about(connection, self.player.uuid, About.CLOCK))
        except LogError:
            return False

    def judge_interrupted_takes(self) -> None:
        """Judge the takes that were under way when the program was last killed, and those of other devices that nobody
        plays any more; without a log to read, none.
        """
        try:
            for logged, raw in self._practice_log.unfinished_takes(at=self._now()):
                self._practice_log.reopen_take(logged).end(ending_of(logged.begun, raw, ended_at=self._now()))
        except LogError:
            return

    @property
    def trouble(self) -> Message | None:
        """What is wrong with the log, for the player."""
        return self._practice_log.trouble

    def flush(self) -> bool:
        """Wait a moment for the log to be written. Whether all that was played is in it."""
        return self._practice_log.flush()

    def close(self) -> Message | None:
        """Write what is left. A sentence when something could not be written."""
        trouble = self._practice_log.close()
        if self._in_use is not None:
            self._in_use.end()
        return trouble


class LogTakeRecorder:
    """One take on its way into the log; see `game.practice.take_recorder`."""

    def __init__(
        self,
        log: PracticeLog,
        begun: TakeBegun,
        zero_s: float,
        now: Callable[[], datetime],
        as_it_begins: Callable[[], TakeBegun],
    ) -> None:
        self._log, self._begun, self._zero_s, self._now = log, begun, zero_s, now
        self._as_it_begins = as_it_begins
        self._handle: TakeHandle | None = None

    @property
    def begun(self) -> TakeBegun:
        """The take as it began."""
        return self._begun

    @property
    def handle(self) -> TakeHandle | None:
        """The take in the log, None while nothing was played."""
        return self._handle

    def played(self, note: PlayedNote) -> None:
        """A note came."""
        self._begin(InstrumentUsed(name=note.source, kind=played_on(note))).played(note)

    def revised(self, before: PlayedNote, after: PlayedNote | None) -> None:
        """A note that came turned out to be another, or none."""
        if self._handle is not None:
            self._handle.revised(before, after)

    def helped(self, n: int, step: HintStep, *, at_s: float) -> None:
        """Help was given."""
        self._begin(self._begun.instrument).helped(n, step, at_s=at_s)

    def named(self, n: int, name: Spelling, *, at_s: float) -> None:
        """A name was given."""
        keys = InstrumentUsed(name=computer_keys.SOURCE, kind=PlayedOn.COMPUTER_KEYS)
        self._begin(keys).named(n, name, at_s=at_s)

    def said(self, n: int, *, said_right: bool, at_s: float) -> None:
        """The player's own word."""
        self._begin(self._begun.instrument).said(n, said_right=said_right, at_s=at_s)

    def ended(self, finished: Finished, *, counted_from_s: float | None = None) -> None:
        """The take is over; one in which nothing was done is no take."""
        if self._handle is None:
            return
        ended = TakeEnded(
            ended_at=self._now(),
            outcome=Outcome.FINISHED if finished.read_count == finished.note_count else Outcome.BROKEN_OFF,
            judge=JUDGE_VERSION,
            judgement=finished.judgement if isinstance(finished, FinishedTake) else None,
            named=finished.named if isinstance(finished, FinishedNaming) else (),
        )
        self._handle.end(ended, counted_from_s=counted_from_s)

    def _begin(self, instrument: InstrumentUsed) -> TakeHandle:
        if self._handle is None:
            self._begun = self._as_it_begins()
            self._handle = self._log.begin_take(replace(self._begun, instrument=instrument), zero_s=self._zero_s)
        return self._handle
