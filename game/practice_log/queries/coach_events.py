"""What the coach heard, out of the log: years of it in one go.

Of a take the log keeps only that the coach heard of it: what it heard is worked out again from the verdicts, by
`game.coach.judged_take`, which the app uses too.
"""

import sqlite3
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any
from uuid import UUID

from game.coach.events import (
    Happening,
    Overruled,
    PageCutAnew,
    PassageFacts,
    PassageOpened,
    PassageRenamed,
    TakeResult,
    Wish,
)
from game.coach.judged_take import JudgedNote, TakeFacts, take_result
from game.coach.marks import Mark
from game.coach.records import CoachState
from game.coach.renamed_passages import renamed
from game.coach.stages import Stage
from game.judging.verdicts import EventKind, Verdict
from game.practice_log.queries.entry_order import (
    AFTER_ALL,
    BEFORE_ALL,
    BETWEEN,
    DAY_NUMBER,
    MINUTE_OF_DAY,
    ORDER,
    Position,
    bounds,
)
from game.practice_log.queries.facts import fact_content, facts_about
from game.practice_log.queries.numbered_rows import NumberedRows
from game.practice_log.queries.passage_facts import TunePagesTold, said_of_passage, told_tune_pages
from game.practice_log.queries.take_sightings import sightings_up_to_date
from game.practice_log.queries.whole_tunes import WholeTunes, tune_pages_told_before
from game.practice_log.rows.entry_rows import About

ABOUT_PASSAGES = (About.RENAMED_PASSAGE, About.CUT_ANEW, About.TUNE_PAGES)
"""The facts that the coach hears of."""

OPENED, TAKE, OVERRULED = "passage opened", "take", "overruled"
_VERDICTS = {verdict.value: verdict for verdict in Verdict}
_STAGES = {stage.value: stage for stage in Stage}
_NOTHING_CAME: dict[str, list[int]] = {verdict: [] for verdict in _VERDICTS}
_EARLY, _LATE, _UNREAD, _UNSURE = (one.value for one in (Verdict.EARLY, Verdict.LATE, Verdict.UNREAD, Verdict.UNSURE))
_WRONG_PITCH, _MISSED, _OTHER_PLACE = (one.value for one in (Verdict.WRONG_PITCH, Verdict.MISSED, Verdict.OTHER_PLACE))
_STOP, _RESTART = EventKind.STOP.value, EventKind.RESTART.value

_HEARD = (
    "CREATE TEMP TABLE heard_in_order "
    "(position INTEGER PRIMARY KEY, coach_event INTEGER, fact INTEGER, day INTEGER, minute INTEGER)"
)
_IN_ORDER = f"""
INSERT INTO temp.heard_in_order (coach_event, fact, day, minute)
SELECT CASE kind WHEN 'coach' THEN row END, CASE kind WHEN 'fact' THEN row END, day, minute FROM (
    SELECT entry.kind, entry.row, {DAY_NUMBER} AS day, {MINUTE_OF_DAY} AS minute, {ORDER}
    FROM entry CROSS JOIN device USING (device) WHERE entry.kind = 'coach' AND {BETWEEN}
    UNION ALL
    SELECT entry.kind, entry.row, 0, 0, {ORDER}
    FROM fact CROSS JOIN entry ON entry.kind = 'fact' AND entry.row = fact.fact CROSS JOIN device USING (device)
    WHERE fact.about IN ({", ".join(f"'{about.value}'" for about in ABOUT_PASSAGES)}) AND {BETWEEN}
) ORDER BY moment_us, uuid, sequence, at_us
"""
_TOLD = """
SELECT position, CAST(content AS BLOB) FROM temp.heard_in_order CROSS JOIN fact USING (fact)
WHERE length(content) < 1000000
"""
_EVENTS = """
SELECT heard_in_order.position, kind, coach_event.passage, notes_per_beat, usual_note_beats, target_bpm,
    heard_in_order.day, begin_at, wish, wish_bpm, take.stage, take.tempo_bpm, sighting.nth, sighting.heard,
    sighting.known, take.self_marked, take.settling, heard_in_order.minute, decision.earned
FROM temp.heard_in_order CROSS JOIN coach_event USING (coach_event) LEFT JOIN take USING (take)
LEFT JOIN decision USING (coach_event)
LEFT JOIN summaries.sighting ON sighting.take = take.take
ORDER BY heard_in_order.position
"""
# Gone through in the order of the events, so that nothing needs sorting.
_NOTES = """
SELECT heard_in_order.position, told.n, told.verdict, note.string IS NOT NULL,
    note.n > 1 AND note.sounding IS before.sounding, told.time_to_find_ms
FROM temp.heard_in_order
CROSS JOIN coach_event USING (coach_event)
CROSS JOIN take USING (take)
CROSS JOIN summaries.sighting ON sighting.take = take.take
CROSS JOIN {told} AS told ON told.judgement = sighting.judgement
CROSS JOIN asked_note AS note ON note.asked = take.asked AND note.n = told.n
LEFT JOIN asked_note AS before ON before.asked = take.asked AND before.n = told.n - 1
WHERE (take.stage = 'letters') = {letters}
ORDER BY heard_in_order.position, told.n
"""
_PLAYED = _NOTES.format(told="verdict", letters=0)
_NAMED = _NOTES.format(told="named", letters=1)
# What `take_result` counts, for whoever needs no more of a take than that: how many notes there are, and what came of
# those that were not clean, which are few.
# To look up each note that was asked takes half of the time: of most takes all have a home.
_COUNTS = """
WITH homed AS MATERIALIZED (
    SELECT asked, COUNT(*) AS notes FROM asked_note GROUP BY asked
    HAVING MIN(n) = 1 AND MAX(n) = COUNT(*) AND COUNT(string) = COUNT(*)
)
SELECT heard_in_order.position, COUNT(*),
    group_concat(told.n || ' ' || told.verdict, char(10)) FILTER (WHERE told.verdict <> 'clean')
FROM temp.heard_in_order
CROSS JOIN coach_event USING (coach_event)
CROSS JOIN take USING (take)
CROSS JOIN summaries.sighting ON sighting.take = take.take
LEFT JOIN homed ON homed.asked = take.asked
CROSS JOIN {told} AS told ON told.judgement = sighting.judgement
WHERE (take.stage = 'letters') = {letters} AND (
    told.n BETWEEN 1 AND homed.notes OR EXISTS (
        SELECT 1 FROM asked_note AS note WHERE note.asked = take.asked AND note.n = told.n AND note.string IS NOT NULL
    )
)
GROUP BY heard_in_order.position
"""
_PLAYED_COUNTS = _COUNTS.format(told="verdict", letters=0)
_NAMED_COUNTS = _COUNTS.format(told="named", letters=1)
_HAPPENED = """
SELECT heard_in_order.position, event.kind
FROM temp.heard_in_order
CROSS JOIN coach_event USING (coach_event)
CROSS JOIN summaries.sighting USING (take)
CROSS JOIN event ON event.judgement = sighting.judgement
ORDER BY heard_in_order.position, event.k
"""


def events_of(
    connection: sqlite3.Connection,
    player: UUID,
    *,
    after: Position = BEFORE_ALL,
    upto: Position = AFTER_ALL,
    at_once: int | None = None,
    find_times: bool = True,
) -> Iterator[Happening]:
    """All that the coach heard, and which passages were read or cut anew, after a position and up to another, in the
    order of everything: feed it to `coach.replayed`. One a time is in memory; `at_once` as in `sums_attached`. Without
    the times that notes took to find it is three times as quick.
    """
    with sightings_up_to_date(connection, player, at_once=at_once):
        connection.execute("DROP TABLE IF EXISTS temp.heard_in_order")
        connection.execute(_HEARD)
        connection.execute(_IN_ORDER, bounds(player, after, upto))
        results = _results_of_notes(connection) if find_times else _results_of_counts(connection)
        told = _told(connection)
        ahead = [said for _, said in told if isinstance(said, TunePagesTold)]
        wholes = WholeTunes(connection, tune_pages_told_before(connection, player, after), ahead)
        yield from _events_in_order(connection, results, told, wholes)


def _events_in_order(
    connection: sqlite3.Connection, results: "ResultAt", told: list["ToldAt"], wholes: WholeTunes
) -> Iterator[Happening]:
    for position, kind, name, rate, usual, target_bpm, day, begin_at, wish, wish_bpm, *take in connection.execute(
        _EVENTS
    ):
        yield from _heard_before(position, told, wholes)
        facts = PassageFacts(name=name, notes_per_beat=rate, usual_note_beats=usual, target_bpm=target_bpm)
        if kind == OPENED:
            yield PassageOpened(passage=facts, day=day, begin_at=Stage(begin_at))
        elif kind == OVERRULED:
            yield Overruled(passage=facts, day=day, wish=Wish(wish), tempo_bpm=wish_bpm)
        else:
            result = results(position, _take_facts(facts, day, take))
            yield result
            yield from wholes.pages_played(position, result)
    yield from _heard_before(None, told, wholes)


def _heard_before(
    position: int | None, told: list["ToldAt"], wholes: WholeTunes
) -> Iterator[PassageRenamed | PageCutAnew]:
    """What is left of what was said, up to a position or to the end; what the coach hears of that."""
    while told and (position is None or told[0][0] < position):
        _, said = told.pop(0)
        if isinstance(said, TunePagesTold):
            wholes.learn(said)
        else:
            yield said


ResultAt = Callable[[int, TakeFacts], TakeResult]
"""The result of the take at a position: to be asked in the order of positions."""


def _results_of_notes(connection: sqlite3.Connection) -> ResultAt:
    played, named, happened = (
        NumberedRows(connection.execute(statement)) for statement in (_PLAYED, _NAMED, _HAPPENED)
    )

    def result_at(position: int, take: TakeFacts) -> TakeResult:
        notes = [
            JudgedNote(n, _VERDICTS[word], *rest) for _, n, word, *rest in (*played.of(position), *named.of(position))
        ]
        return take_result(notes, [EventKind(kind) for _, kind in happened.of(position)], **take)

    return result_at


def _results_of_counts(connection: sqlite3.Connection) -> ResultAt:
    played, named, happened = (
        NumberedRows(connection.execute(statement)) for statement in (_PLAYED_COUNTS, _NAMED_COUNTS, _HAPPENED)
    )

    def result_at(position: int, take: TakeFacts) -> TakeResult:
        counts = next(iter((*played.of(position), *named.of(position))), (position, 0, None))
        _, notes, others = counts
        came = _NOTHING_CAME if others is None else _came(others)
        off_time, unread, unsure = len(came[_EARLY]) + len(came[_LATE]), len(came[_UNREAD]), len(came[_UNSURE])
        kinds = [kind for _, kind in happened.of(position)]
        return TakeResult(
            homes=notes - unread - unsure,
            clean=notes - sum(map(len, came.values())) + off_time,
            off_time=off_time,
            unread=unread,
            unsure=unsure,
            stops=kinds.count(_STOP),
            restarts=kinds.count(_RESTART),
            wrong_notes=frozenset((*came[_WRONG_PITCH], *came[_MISSED])),
            other_place_notes=frozenset(came[_OTHER_PLACE]),
            **take,
        )

    return result_at


def _came(others: str) -> dict[str, list[int]]:
    """The numbers of the notes of which something came, by the word for it."""
    came: dict[str, list[int]] = {verdict: [] for verdict in _VERDICTS}
    for one in others.split("\n"):
        n, _, word = one.partition(" ")
        came.setdefault(word, []).append(int(n))
    return came


def renamed_passages(connection: sqlite3.Connection, player: UUID) -> dict[str, str]:
    """The keys of passages whose file was read anew, with what they are now."""
    state = CoachState()
    for fact in facts_about(connection, player, About.RENAMED_PASSAGE):
        for said in said_of_passage(fact.content):
            if isinstance(said, PassageRenamed):
                state = renamed(state, said.was, said.is_now)
    return dict(state.renamed)


ToldAt = tuple[int, PassageRenamed | PageCutAnew | TunePagesTold]
"""What was said of passages, with its place among what the coach heard."""


def _told(connection: sqlite3.Connection) -> list[ToldAt]:
    """What was said of passages, in order; what makes no sense is passed over."""
    told: list[ToldAt] = []
    for position, raw in connection.execute(_TOLD):
        content = fact_content(raw)
        told += ((position, said) for said in said_of_passage(content))
        pages = told_tune_pages(content)
        told += [] if pages is None else [(position, pages)]
    return told


@lru_cache(maxsize=256)
def _told_marks(earned: str | None) -> tuple[Mark, ...]:
    """The marks that the coach said were earned, as a decision tells them; words of a later program are passed over."""
    return tuple(mark for mark in Mark if earned is not None and f'"{mark.value}"' in earned)


def _take_facts(facts: PassageFacts, day: int, take: list[Any]) -> TakeFacts:
    stage, tempo_bpm, sighting, heard, known_by_ear, self_marked, settling, minute, earned = take
    return TakeFacts(
        passage=facts,
        day=day,
        stage=_STAGES.get(stage) or Stage(stage),
        tempo_bpm=tempo_bpm,
        sighting=sighting,
        heard=bool(heard),
        known_by_ear=bool(known_by_ear),
        self_marked=bool(self_marked),
        settling=bool(settling),
        minute=minute,
        told=_told_marks(earned),
    )
