"""What the program writes into the log and never reads back itself: decisions, and the names given in `letters`."""

import sqlite3
from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from game.coach.decisions import Decision, Offer
from game.coach.events import Event
from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from game.judging.letters import NamedNote
from game.judging.verdicts import Cause, Verdict
from game.music.names import Spelling
from game.practice_log.queries.coach_events import events_of
from game.practice_log.queries.entry_order import ORDER
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.rows.row_values import from_json_array, messages_from, utc_from
from game.practice_log.rows.standing import standing
from game.text.catalogue import readable

_DECISIONS = f"""
SELECT at_utc, decision.passage, offer, stage, pulse, tempo_bpm, reason, settling, earned, to_review
FROM coach_event JOIN decision USING (coach_event)
JOIN entry ON entry.kind = 'coach' AND entry.row = coach_event JOIN device ON device.device = entry.device
WHERE entry.player = (SELECT player FROM player WHERE uuid = ?) ORDER BY {ORDER}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedDecision:
    """What the coach heard and what it said."""

    at_utc: datetime
    event: Event
    decision: Decision


def decisions_of(connection: sqlite3.Connection, player: UUID) -> tuple[LoggedDecision, ...]:
    """All that the coach heard and said, oldest first."""
    rows = connection.execute(_DECISIONS, (str(player),)).fetchall()
    return tuple(
        LoggedDecision(at_utc=utc_from(at_utc), event=event, decision=_decision(row))
        for event, (at_utc, *row) in zip(events_of(connection, player), rows, strict=True)
    )


def _decision(row: list[Any]) -> Decision:
    passage, offer, stage, pulse, tempo_bpm, reason, settling, earned, to_review = row
    return Decision(
        passage=passage,
        offer=Offer(offer),
        stage=Stage(stage),
        pulse=Pulse(pulse),
        tempo_bpm=tempo_bpm,
        reason=tuple(readable(said) for said in messages_from(reason)),
        settling=bool(settling),
        earned=tuple(Mark(word) for word in from_json_array(earned)),
        to_review=tuple(from_json_array(to_review)),
    )


def named_of(connection: sqlite3.Connection, take: int) -> tuple[NamedNote, ...]:
    """The notes of a `letters` take with the names that were given for them; none while it has no judgement."""
    given: defaultdict[int, tuple[Spelling, ...]] = defaultdict(tuple)
    for name in raw_take(connection, take).names:
        given[name.n] += (name.name,) if name.name else ()
    rows = connection.execute(
        "SELECT n, verdict, cause, time_to_find_ms, self_marked FROM named "
        f"WHERE judgement = {standing('?')} ORDER BY n",
        (take,),
    )
    return tuple(
        NamedNote(
            n=n,
            verdict=Verdict(word),
            given=given[n],
            cause=Cause(cause) if cause else None,
            time_to_find_ms=time_to_find_ms,
            self_marked=bool(self_marked),
        )
        for n, word, cause, time_to_find_ms, self_marked in rows
    )
