"""What the coach heard and said, into the log, in the order in which it must be replayed.

Of a take the log keeps only that the coach heard of it: `game.practice_log.queries.coach_events` works out again what.
"""

import sqlite3

from game.coach.decisions import Decision
from game.coach.events import Event, Overruled, PassageFacts, PassageOpened, TakeResult
from game.coach.judged_take import judged_notes, take_result
from game.judging.letters import NamedNote
from game.judging.verdicts import Judgement, NoteVerdict
from game.practice_log.queries.coach_events import OPENED, OVERRULED, TAKE
from game.practice_log.rows.entry_rows import Kind, Recorded, put_entry
from game.practice_log.rows.log_records import TakeBegun
from game.practice_log.rows.row_values import json_array, messages_text, utc_text

_INSERT_EVENT = """
INSERT INTO coach_event (
    player, device, at_utc, kind, passage, notes_per_beat, usual_note_beats, target_bpm, day, begin_at, wish,
    wish_bpm, take
) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
"""


def coach_result(
    begun: TakeBegun,
    facts: PassageFacts,
    *,
    day: int,
    minute: int | None = None,
    judgement: Judgement | None = None,
    named: tuple[NamedNote, ...] = (),
) -> TakeResult:
    """What the coach hears of a take that was played (`judgement`) or named in `letters` (`named`), on a day and at a
    minute of it, counted from midnight.

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
    return take_result(
        judged_notes(judgement.verdicts, begun.asked.notes),
        [event.kind for event in judgement.events],
        passage=facts,
        day=day,
        minute=minute,
        stage=terms.stage,
        tempo_bpm=terms.tempo_bpm,
        sighting=sighting.nth,
        heard=sighting.heard,
        known_by_ear=bool(sighting.known_by_ear),
        self_marked=terms.self_marked,
        settling=terms.settling,
    )


def put_decision(
    connection: sqlite3.Connection,
    recorded: Recorded,
    event: Event,
    decision: Decision,
    take: int | None,
) -> None:
    """Add what the coach heard and said; `take` goes with a `TakeResult`."""
    facts = event.passage
    number = connection.execute(
        _INSERT_EVENT,
        (
            recorded.player,
            recorded.device,
            utc_text(recorded.at),
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
    assert number is not None
    put_entry(connection, recorded, Kind.COACH, number)
    connection.execute(
        "INSERT INTO decision VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            number,
            decision.passage,
            decision.offer.value,
            decision.stage.value,
            decision.pulse.value,
            decision.tempo_bpm,
            messages_text(decision.reason),
            decision.settling,
            json_array(mark.value for mark in decision.earned),
            json_array(decision.to_review),
        ),
    )


def _kind(event: Event) -> str:
    match event:
        case PassageOpened():
            return OPENED
        case TakeResult():
            return TAKE
        case Overruled():
            return OVERRULED
