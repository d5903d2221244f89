"""What is known of the player's notes, for the app: made from the practice log, and kept up as takes end."""

from datetime import datetime
from uuid import UUID

import msgspec

from game.coach.notes.ink import InkRecord, SpellingKey
from game.coach.notes.ink_of_map import InkOfMap, ink_of_map
from game.coach.notes.items import Item, ItemKey, map_name
from game.coach.notes.map_days import MapDay
from game.coach.notes.mastery import Mastery, due_notes, mastery_after
from game.coach.notes.new_notes import met_first_today
from game.coach.notes.note_reads import JudgedTake, take_reads
from game.coach.notes.ratings import DayOfItem
from game.coach.notes.review import Review
from game.coach.notes.slow_notes import SlowHome, slow_notes
from game.coach.notes.weights import pitch_weights
from game.errors import LogError
from game.instrument.sources.note_sources import TELL_PLACES
from game.judging.verdicts import Judgement
from game.music.drill_title import is_drill_title
from game.neck.neck_map import NeckMap
from game.player.log_fold import Fold
from game.player.log_projection import LogProjection
from game.player.player_log import LogTakeRecorder, PlayerLog
from game.practice.finished_take import Finished, FinishedTake
from game.practice_log.database.store import Connection
from game.practice_log.queries.entry_order import Position
from game.practice_log.queries.last_sitting import SittingTake, takes_of_last_day
from game.practice_log.queries.read_queries import takes_read
from game.practice_log.rows.entry_rows import Kind
from game.practice_log.rows.log_records import TakeBegun


class _Stored(msgspec.Struct, frozen=True, kw_only=True):
    """A `Mastery` in a file, whose tables have keys that are more than text."""

    items: list[tuple[ItemKey, Item]]
    reviews: list[tuple[ItemKey, Review]]
    day: int
    today: list[tuple[ItemKey, DayOfItem]]
    ink: list[tuple[SpellingKey, InkRecord]]
    map_days: dict[str, tuple[MapDay, ...]]


def _pack(mastery: Mastery) -> _Stored:
    return _Stored(
        items=list(mastery.items.items()),
        reviews=list(mastery.reviews.items()),
        day=mastery.day,
        today=list(mastery.today.items()),
        ink=list(mastery.ink.items()),
        map_days=dict(mastery.map_days),
    )


def _unpack(stored: _Stored) -> Mastery:
    return Mastery(
        items=dict(stored.items),
        reviews=dict(stored.reviews),
        day=stored.day,
        today=dict(stored.today),
        ink=dict(stored.ink),
        map_days=stored.map_days,
    )


def _add_entries(
    connection: Connection, player: UUID, before: Mastery, after: Position, upto: Position, at_once: int | None
) -> Mastery:
    for read in takes_read(connection, player, after=after, upto=upto, at_once=at_once):
        before = mastery_after(before, read)
    return before


FOLD = Fold(
    name="player_notes",
    initial=Mastery(),
    add_entries=_add_entries,
    kind=Kind.TAKE,
    stored_type=_Stored,
    pack=_pack,
    unpack=_unpack,
)
"""How mastery is made of the log."""


class PlayerNotes:
    """One player's mastery."""

    def __init__(self, log: PlayerLog) -> None:
        self._log = log
        self.projection = LogProjection(FOLD, log)

    @property
    def mastery(self) -> Mastery:
        """All that is known, made from the log when first asked for: never during a take."""
        return self.projection.state

    def finish_take(self, finished: Finished, take: LogTakeRecorder) -> None:
        """A take is over: what it tells of its notes is added, if anything is known yet."""
        known = self.projection.loaded
        if known is not None and isinstance(finished, FinishedTake) and take.handle is not None:
            told = judged_take(take.begun, finished.judgement)
            self.projection.state = mastery_after(known, take_reads(told))

    def now(self) -> datetime:
        """The time on the wall."""
        return self._log.now()

    @property
    def day(self) -> int:
        """Today, counted from the first of January of year 1."""
        return self._log.day

    def ink(self, neck_map: NeckMap) -> InkOfMap:
        """The ink of a map as it stands today."""
        return ink_of_map(self.mastery, neck_map, self.day)

    def has_read(self, neck_map: NeckMap) -> bool:
        """Whether anything was ever read in the position of a map, on its strings and at its octave."""
        name = map_name(neck_map)
        return any(key.map_name == name for key in self.mastery.items)

    def slow(self, neck_map: NeckMap) -> tuple[SlowHome, ...]:
        """The slow notes of a map, the costliest first."""
        return slow_notes(self.mastery.items, neck_map)

    def met_first_today(self, neck_map: NeckMap) -> frozenset[int]:
        """The pitches of a map that were never read before today."""
        mastery = self.mastery
        return met_first_today(mastery.items, mastery.today, neck_map) if mastery.day == self.day else frozenset()

    def takes_of_last_day(self) -> tuple[SittingTake, ...]:
        """The takes of the last day of practice before today; none where the log cannot be read."""
        try:
            with self._log.reading() as connection:
                return takes_of_last_day(connection, self._log.player.uuid, self.day)
        except LogError:
            return ()

    def weights(self, neck_map: NeckMap) -> dict[int, float]:
        """How much more often each pitch should come up in a fresh line: slow, wrong and due notes more."""
        return dict(pitch_weights(self.mastery.items, neck_map, due=due_notes(self.mastery, self.day)))


def judged_take(begun: TakeBegun, judgement: Judgement, day: int | None = None) -> JudgedTake:
    """A logged take as the items hear of it, of the day on which it began where no other is told."""
    at = begun.started_at
    return JudgedTake(
        judgement=judgement,
        expected=begun.asked.notes,
        neck_map=begun.neck_map,
        day=at.date().toordinal() if day is None else day,
        minute=60 * at.hour + at.minute,
        drill=is_drill_title(begun.bars.title),
        stage=begun.terms.stage,
        sighting=begun.sighting.nth,
        heard=begun.sighting.heard,
        known_by_ear=bool(begun.sighting.known_by_ear),
        self_marked=begun.terms.self_marked,
        placed=begun.instrument.kind in TELL_PLACES,
    )
