"""What the coach heard and said, into the log and back, in the order in which it must be replayed.

Of a take the log keeps only that the coach heard of it: what it heard is worked out again from the verdicts, with
`coach_result`, which the app uses too.
"""

import sqlite3
from collections.abc import Mapping
from dataclasses import replace
from typing import Any
from uuid import UUID

from game.coach.decisions import Decision, Offer
from game.coach.events import Event, Overruled, PassageFacts, PassageOpened, TakeResult, Wish
from game.coach.judged_take import result_of
from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from game.judging.letters import NamedNote
from game.judging.verdicts import Judgement, NoteVerdict
from game.practice_log.judged import judgement_of, named_of
from game.practice_log.records import LoggedDecision, TakeBegun
from game.practice_log.takes import takes_where
from game.practice_log.values import numbers_from, row_of_numbers, utc_from

_INSERT_EVENT = """
INSERT INTO coach_event (
    player, device, at_utc, kind, passage, notes_per_beat, usual_note_beats, target_bpm, day, begin_at, wish,
    wish_bpm, take
) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
"""
_SELECT = """
SELECT coach_event, at_utc, kind, coach_event.passage, notes_per_beat, usual_note_beats, target_bpm, day, begin_at,
    wish, wish_bpm, take, decision.passage, offer, stage, pulse, tempo_bpm, reason, settling, earned, to_review
FROM coach_event JOIN decision USING (coach_event) JOIN player USING (player)
WHERE player.uuid = ? AND coach_event > ? ORDER BY coach_event
"""
_OPENED, _TAKE, _OVERRULED = "passage opened", "take", "overruled"


def coach_result(
    begun: TakeBegun,
    facts: PassageFacts,
    *,
    day: int,
    judgement: Judgement | None = None,
    named: tuple[NamedNote, ...] = (),
) -> TakeResult:
    """What the coach hears of a take that was played (`judgement`) or named in `letters` (`named`).

    Raises `ValueError` when verdicts and notes asked are not of one length.
    """
    if judgement is None:
        judgement = Judgement(
            verdicts=tuple(
                NoteVerdict(n=note.n, verdict=note.verdict, cause=note.cause, time_to_find_ms=note.time_to_find_ms)
                for note in named
            )
        )
    terms, sighting = begun.terms, begun.sighting
    result = result_of(
        judgement, begun.asked.notes, passage=facts, day=day, stage=terms.stage, tempo_bpm=terms.tempo_bpm
    )
    return replace(
        result,
        sighting=sighting.nth,
        heard=sighting.heard,
        known_by_ear=bool(sighting.known_by_ear),
        self_marked=terms.self_marked,
        settling=terms.settling,
    )


def put_decision(
    connection: sqlite3.Connection,
    who: tuple[int, int],
    at_utc: str,
    event: Event,
    decision: Decision,
    take: int | None,
) -> None:
    """Add what the coach heard and said. `who` numbers player and device; `take` goes with a `TakeResult`."""
    facts = event.passage
    number = connection.execute(
        _INSERT_EVENT,
        (
            *who,
            at_utc,
            _kind(event),
            facts.name,
            facts.notes_per_beat,
            facts.usual_note_beats,
            facts.target_bpm,
            event.day,
            event.begin_at.value if isinstance(event, PassageOpened) else None,
            event.wish.value if isinstance(event, Overruled) else None,
            event.tempo_bpm if isinstance(event, Overruled) else None,
            take if isinstance(event, TakeResult) else None,
        ),
    ).lastrowid
    connection.execute(
        "INSERT INTO decision VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            number,
            decision.passage,
            decision.offer.value,
            decision.stage.value,
            decision.pulse.value,
            decision.tempo_bpm,
            decision.reason,
            decision.settling,
            row_of_numbers(mark.value for mark in decision.earned),
            row_of_numbers(decision.to_review),
        ),
    )


def decisions_of(connection: sqlite3.Connection, player: UUID, *, after: int = 0) -> tuple[LoggedDecision, ...]:
    """All that the coach heard and said after number `after`, oldest first: feed the events to `coach.replayed`."""
    rows = connection.execute(_SELECT, (str(player), after)).fetchall()
    heard_of = "take.take IN (SELECT take FROM coach_event WHERE player = take.player AND coach_event > ?)"
    takes = takes_where(connection, f"player.uuid = ? AND {heard_of}", (str(player), after))
    begun = {take.take: take.begun for take in takes}
    return tuple(
        LoggedDecision(
            number=row[0],
            at_utc=utc_from(row[1]),
            event=_event(connection, row[2:12], begun),
            decision=_decision(row[12:]),
        )
        for row in rows
    )


def _kind(event: Event) -> str:
    match event:
        case PassageOpened():
            return _OPENED
        case TakeResult():
            return _TAKE
        case Overruled():
            return _OVERRULED


def _event(connection: sqlite3.Connection, row: tuple[Any, ...], begun: Mapping[int, TakeBegun]) -> Event:
    kind, name, notes_per_beat, usual_note_beats, target_bpm, day, begin_at, wish, wish_bpm, take = row
    facts = PassageFacts(
        name=name, notes_per_beat=notes_per_beat, usual_note_beats=usual_note_beats, target_bpm=target_bpm
    )
    if kind == _OPENED:
        return PassageOpened(passage=facts, day=day, begin_at=Stage(begin_at))
    if kind == _OVERRULED:
        return Overruled(passage=facts, day=day, wish=Wish(wish), tempo_bpm=wish_bpm)
    letters = begun[take].terms.stage is Stage.LETTERS
    judgement = None if letters else judgement_of(connection, take, with_answers=False)
    named = named_of(connection, take) if letters else ()
    return coach_result(begun[take], facts, day=day, judgement=judgement, named=named)


def _decision(row: tuple[Any, ...]) -> Decision:
    passage, offer, stage, pulse, tempo_bpm, reason, settling, earned, to_review = row
    return Decision(
        passage=passage,
        offer=Offer(offer),
        stage=Stage(stage),
        pulse=Pulse(pulse),
        tempo_bpm=tempo_bpm,
        reason=reason,
        settling=bool(settling),
        earned=tuple(Mark(word) for word in numbers_from(earned)),
        to_review=tuple(numbers_from(to_review)),
    )
