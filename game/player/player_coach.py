"""The coach at the desk: what it hears and says goes into the practice log, and comes out of it at the next start."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from uuid import UUID

import msgspec

from game.coach.coach import NOTHING_KNOWN, advance, page_played, replayed
from game.coach.decisions import Decision, Offer
from game.coach.events import (
    Event,
    Overruled,
    PageCutAnew,
    PagePlayed,
    PassageFacts,
    PassageOpened,
    TakeResult,
    Wish,
    facts_of,
)
from game.coach.judged_take import judged_notes
from game.coach.marks import Mark
from game.coach.pages_cut_anew import records_cut_anew
from game.coach.played_whole import pages_played
from game.coach.records import CoachState, PassageRecord
from game.coach.renamed_passages import renamed
from game.coach.stages import Pulse, Stage
from game.music.passage import Passage
from game.player.log_fold import Fold
from game.player.log_projection import LogProjection
from game.player.pages_of_whole import pages_of_whole
from game.player.player_log import LogTakeRecorder, PlayerLog
from game.practice.finished_take import Finished, FinishedNaming, FinishedTake
from game.practice_log.database.store import Connection
from game.practice_log.queries.coach_events import events_of
from game.practice_log.queries.entry_order import Position
from game.practice_log.rows.decision_rows import coach_result
from game.practice_log.rows.entry_rows import Kind
from game.practice_log.rows.passage_key import passage_key
from game.practice_log.rows.row_values import messages_from, messages_text


def _add_entries(
    connection: Connection, player: UUID, before: CoachState, after: Position, upto: Position, at_once: int | None
) -> CoachState:
    return replayed(events_of(connection, player, after=after, upto=upto, at_once=at_once), state=before)


class _StoredDecision(msgspec.Struct, frozen=True, kw_only=True):
    """A `Decision` in a file, its reason as it stands in the log."""

    passage: str
    offer: Offer
    stage: Stage
    pulse: Pulse
    tempo_bpm: int | None
    reason: str
    settling: bool
    earned: tuple[Mark, ...]
    to_review: tuple[int, ...]
    just_read: bool


class _Stored(msgspec.Struct, frozen=True, kw_only=True):
    """A `CoachState` in a file."""

    records: dict[str, PassageRecord]
    wish: float
    decision: _StoredDecision | None
    renamed: dict[str, str]


def _pack(state: CoachState) -> _Stored:
    said = state.decision
    return _Stored(
        records=dict(state.records),
        wish=state.wish,
        decision=None if said is None else _stored_decision(said),
        renamed=dict(state.renamed),
    )


def _unpack(stored: _Stored) -> CoachState:
    said = stored.decision
    decision = None if said is None else _decision(said)
    return CoachState(records=stored.records, wish=stored.wish, decision=decision, renamed=stored.renamed)


def _stored_decision(said: Decision) -> _StoredDecision:
    fields = {field: getattr(said, field) for field in _StoredDecision.__struct_fields__}
    return _StoredDecision(**fields | {"reason": messages_text(said.reason)})


def _decision(stored: _StoredDecision) -> Decision:
    return Decision(**msgspec.structs.asdict(stored) | {"reason": messages_from(stored.reason)})


FOLD = Fold(
    name="player_coach",
    initial=NOTHING_KNOWN,
    add_entries=_add_entries,
    kind=Kind.COACH,
    stored_type=_Stored,
    pack=_pack,
    unpack=_unpack,
)
"""How the coach's state is made of the log."""


def _once_more(finished: FinishedTake) -> Decision:
    """The same bars on the same terms; at first sight other bars, for these were seen now."""
    bpm = finished.tempo_bpm
    return Decision(
        passage=passage_key(finished.passage),
        offer=Offer.SIBLING if finished.stage.once_through else Offer.AGAIN,
        stage=finished.stage,
        pulse=Pulse.FREE if bpm is None else Pulse.METRONOME,
        tempo_bpm=None if bpm is None else round(bpm),
        reason=(),
    )


class PlayerCoach:
    """One player's coach. `target_bpm` tells the tempo at which a passage is signed off, in the metre's own beat; where
    a teacher set another for a take, it is handed in with it, and holds for that alone.
    """

    def __init__(self, log: PlayerLog, *, target_bpm: Callable[[], int]) -> None:
        self._log = log
        self._target_bpm = target_bpm
        self.projection = LogProjection(FOLD, log)

    @property
    def folder(self) -> Path:
        """The player's own."""
        return self._log.path.parent

    @property
    def state(self) -> CoachState:
        """All the coach knows, made again from the log when first asked for: never during a take."""
        return self.projection.state

    def open_passage(
        self, passage: Passage, begin_at: Stage = Stage.PLACES, *, target_bpm: int | None = None
    ) -> Decision:
        """A passage is laid on the stand: how to begin."""
        at, facts = self._log.now(), self.facts(passage, target_bpm)
        return self._advance(PassageOpened(passage=facts, day=at.date().toordinal(), begin_at=begin_at), at)

    def overrule(
        self, passage: Passage, wish: Wish, tempo_bpm: int | None = None, *, target_bpm: int | None = None
    ) -> Decision:
        """The player wants it otherwise."""
        at, facts = self._log.now(), self.facts(passage, target_bpm)
        return self._advance(Overruled(passage=facts, day=at.date().toordinal(), wish=wish, tempo_bpm=tempo_bpm), at)

    def finish_take(self, finished: Finished, take: LogTakeRecorder, *, target_bpm: int | None = None) -> Decision:
        """A take in which something was played is over and in the log: what comes next. A clean one of a whole tune
        counts for each of its pages. Of free reading the coach hears nothing: the same comes once more.
        """
        if isinstance(finished, FinishedTake) and finished.free_reading:
            return _once_more(finished)
        at = self._log.now()
        result = coach_result(
            take.begun,
            self.facts(finished.passage, target_bpm),
            day=at.date().toordinal(),
            minute=60 * at.hour + at.minute,
            judgement=finished.judgement if isinstance(finished, FinishedTake) else None,
            named=finished.named if isinstance(finished, FinishedNaming) else (),
        )
        by_own = replace(result, passage=_by_own_target(result.passage))
        pages = self._pages_played(finished, take, by_own) if isinstance(finished, FinishedTake) else ()
        decision = self._advance(result, at, take)
        for page in pages:
            self.projection.state = page_played(self.state, page)
        return decision

    def _pages_played(
        self, finished: FinishedTake, take: LogTakeRecorder, result: TakeResult
    ) -> tuple[PagePlayed, ...]:
        told = pages_of_whole(finished.passage, self.facts)
        if told is None:
            return ()
        notes = judged_notes(finished.judgement.verdicts, take.begun.asked.notes)
        pages = pages_played(result, notes, told.pages)
        if pages:
            self._log.facts.tell_tune_pages(told)
        return pages

    def record_of(self, passage: Passage) -> PassageRecord | None:
        """What is known of a passage, also under the name that it had before; None of one that was never opened."""
        name = passage_key(passage)
        return self.state.records.get(self.state.renamed.get(name, name))

    def rename_passage(self, was: Passage, is_now: Passage) -> None:
        """The file of a passage was read anew, or corrected: what it earned, and how often its bars were met and heard,
        stays its own. Whoever still reads it as it was reads the same.
        """
        self.projection.state = renamed(self.state, passage_key(was), passage_key(is_now))
        self._log.facts.rename_passage(was, is_now)

    def correct_passage(self, was: Passage, is_now: Passage) -> None:
        """Bars of a tune we ship were corrected. It is said where it is news: where they are known as they were."""
        if passage_key(was) in self.state.records:
            self.rename_passage(was, is_now)

    def cut_anew(self, said: PageCutAnew) -> None:
        """A tune is cut into pages otherwise than it was: what its pages earned goes over. It is said where it is
        news.
        """
        state = self.state
        records = records_cut_anew(state.records, state.renamed, said)
        if records is not state.records:
            self.projection.state = replace(state, records=records)
            self._log.facts.cut_anew(said)

    def facts(self, passage: Passage, target_bpm: int | None = None) -> PassageFacts:
        """What the coach must know of a passage. It is known by its notes, whatever the tune is called. `target_bpm` is
        one that was set, None for the player's own: takes are led to it, and signed off at their own all the same.
        """
        own = self._target_bpm()
        facts = facts_of(
            passage_key(passage),
            lengths=tuple(note.length for note in passage.notes),
            beat_length=passage.bars[0].meter.beat_length,
            target_bpm=own if target_bpm is None else target_bpm,
        )
        return replace(facts, sign_off_bpm=own) if target_bpm is not None and target_bpm < own else facts

    def _advance(self, event: Event, at: datetime, take: LogTakeRecorder | None = None) -> Decision:
        """What is decided goes by the target that holds for the take, what is earned and kept by the player's own."""
        by_own = replace(event, passage=_by_own_target(event.passage))
        state = self.state
        self.projection.state, decision = advance(state, by_own)
        if by_own.passage != event.passage:
            _, decision = advance(state, event)
        self._log.record_decision(by_own, decision, at=at, take=take)
        return decision


def _by_own_target(facts: PassageFacts) -> PassageFacts:
    """The facts as the log keeps them: with the tempo that a passage is signed off at."""
    own = facts.sign_off_bpm
    return facts if own is None else replace(facts, target_bpm=own, sign_off_bpm=None)
