"""What is asked of a gathered class beyond the week of each student: of a passage that does not get on what went wrong
there, what somebody played last, and days for care. Statements that SQLite and PostgreSQL both
have.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.class_queries import AskedClass, as_uuid, passage_take
from game.practice_log.classes.class_schema import CAUSES, NO_SHARE, VERDICTS
from game.practice_log.classes.need import STUCK_TAKES, WEEK_DAYS, PassageTake

MINUTES_DAYS = 35
"""The week, and the four before it."""

PASSAGE = """
SELECT title, first, last, target_bpm FROM passage WHERE student = :student AND passage = :passage
"""

PASSAGE_TAKES = f"""
SELECT day, stage, tempo_bpm, notes, clean, in_time, clean_in_time FROM take
WHERE student = :student AND passage = :passage AND day <= :today
ORDER BY place DESC LIMIT {STUCK_TAKES}
"""

FASTEST_CLEAN = """
SELECT MAX(tempo_bpm) FROM take
WHERE student = :student AND passage = :passage AND day <= :today AND clean_in_time = 1
"""

CLEAN_IN_TUNE = """
SELECT MAX(take.tempo_bpm) FROM take
JOIN passage ON passage.student = take.student AND passage.passage = take.passage
WHERE take.student = :student AND passage.title = :title AND take.day <= :today AND take.clean_in_time = 1
"""

AMISS = f"""
SELECT item.written, item.string, item.fret, note.verdict, note.cause, COUNT(*)
FROM (
    SELECT take FROM take WHERE student = :student AND passage = :passage AND day <= :today
    ORDER BY place DESC LIMIT {STUCK_TAKES}
) AS lately
JOIN note ON note.student = :student AND note.take = lately.take
JOIN item ON item.student = :student AND item.item = note.item
WHERE note.verdict NOT IN ({NO_SHARE}, {VERDICTS[Verdict.CLEAN]})
GROUP BY item.written, item.string, item.fret, note.verdict, note.cause
"""
"""What was not all right in the last takes of a passage, by note."""

PLAYED_LAST = """
SELECT student, title, first, last FROM (
    SELECT take.student, passage.title, passage.first, passage.last,
        ROW_NUMBER() OVER (PARTITION BY take.student ORDER BY take.place DESC) AS back
    FROM (
        SELECT student, MAX(day) AS day FROM take WHERE day <= :today GROUP BY student HAVING MAX(day) <= :after
    ) AS away
    JOIN take ON take.student = away.student AND take.day = away.day
    JOIN passage ON passage.student = take.student AND passage.passage = take.passage
) AS ranked
WHERE back = 1
ORDER BY student
"""
"""What those who did not practise in the week played last."""

DAY_MINUTES = """
SELECT student, day, minutes FROM day WHERE day > :since AND day <= :today ORDER BY student, day
"""

FIRST_DAYS = """
SELECT student, MIN(day) FROM day WHERE day <= :today GROUP BY student ORDER BY student
"""

FIRST_AFTER = """
SELECT student, MIN(day) FROM day WHERE day > :today GROUP BY student ORDER BY student
"""

FILES = """
SELECT student, MIN(path) FROM delivery GROUP BY student ORDER BY student
"""


_VERDICT_OF = {number: verdict for verdict, number in VERDICTS.items()}
_CAUSE_OF = {number: cause for cause, number in CAUSES.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteAmiss:
    """A written note of a passage, with its home if it has one, and how many `times` it came out as `verdict` says."""

    written: str
    string: int | None
    fret: int | None
    verdict: Verdict
    cause: Cause | None
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LatelyPlayed:
    """Bars by their title, as printed."""

    title: str
    first: str
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StuckPassage:
    """A passage that does not get on: its last `takes`, oldest first, and what was `amiss` in them. `clean_bpm` is the
    tempo of the fastest clean take there ever was, None for none; `target_bpm` None for the player's own.
    """

    bars: LatelyPlayed
    takes: tuple[PassageTake, ...]
    amiss: tuple[NoteAmiss, ...]
    clean_bpm: float | None
    target_bpm: int | None


@dataclass(frozen=True, slots=True)
class DayMinutes:
    """Minutes practised on a day."""

    day: date
    minutes: float


def stuck_passage(asked: AskedClass, student: UUID, passage: int, today: date) -> StuckPassage:
    """What there is of a passage by its number."""
    of_passage = {"student": student.bytes, "passage": passage}
    until_today = {**of_passage, "today": today.isoformat()}
    title, first, last, target = asked.execute(PASSAGE, of_passage).fetchone()
    (clean_bpm,) = asked.execute(FASTEST_CLEAN, until_today).fetchone()
    takes = [passage_take(*told) for told in asked.execute(PASSAGE_TAKES, until_today).fetchall()]
    # The order of words is each database's own.
    amiss = sorted(asked.execute(AMISS, until_today).fetchall(), key=_in_order)
    return StuckPassage(
        bars=LatelyPlayed(title=title, first=first, last=last),
        takes=tuple(reversed(takes)),
        amiss=tuple(map(_note_amiss, amiss)),
        clean_bpm=clean_bpm,
        target_bpm=target,
    )


def clean_in_tune(asked: AskedClass, student: UUID, title: str, today: date) -> float | None:
    """The fastest tempo at which any bars of a tune were clean against the click; None where none were."""
    wanted = {"student": student.bytes, "title": title, "today": today.isoformat()}
    (clean_bpm,) = asked.execute(CLEAN_IN_TUNE, wanted).fetchone()
    return None if clean_bpm is None else float(clean_bpm)


def played_last(asked: AskedClass, today: date) -> Mapping[UUID, LatelyPlayed]:
    """What those who did not practise in the week that ends today played last, where they ever did."""
    after = today - timedelta(days=WEEK_DAYS)
    rows = asked.execute(PLAYED_LAST, {"today": today.isoformat(), "after": after.isoformat()}).fetchall()
    return {as_uuid(one): LatelyPlayed(title=title, first=first, last=last) for one, title, first, last in rows}


def day_minutes(asked: AskedClass, today: date) -> Mapping[UUID, Sequence[DayMinutes]]:
    """The days of five weeks, oldest first; before them the very first day, with no minutes, if that is longer ago."""
    since = today - timedelta(days=MINUTES_DAYS)
    days: defaultdict[UUID, list[DayMinutes]] = defaultdict(list)
    for student, day in asked.execute(FIRST_DAYS, {"today": today.isoformat()}).fetchall():
        if day <= since.isoformat():
            days[as_uuid(student)].append(DayMinutes(date.fromisoformat(day), 0.0))
    within = {"since": since.isoformat(), "today": today.isoformat()}
    for student, day, minutes in asked.execute(DAY_MINUTES, within).fetchall():
        days[as_uuid(student)].append(DayMinutes(date.fromisoformat(day), float(minutes)))
    return days


def first_after(asked: AskedClass, today: date) -> Mapping[UUID, date]:
    """Of those who practised after today the first such day: where that is still to come a clock was wrong."""
    rows = asked.execute(FIRST_AFTER, {"today": today.isoformat()}).fetchall()
    return {as_uuid(student): date.fromisoformat(day) for student, day in rows}


def first_files(asked: AskedClass) -> Mapping[UUID, str]:
    """A file of each student, by its path within the folder."""
    return {as_uuid(student): path for student, path in asked.execute(FILES, {}).fetchall()}


def _in_order(row: Sequence[Any]) -> tuple[Any, ...]:
    written, string, fret, verdict, cause, _ = row
    return written, string or 0, fret or 0, verdict, cause or 0


def _note_amiss(row: Sequence[Any]) -> NoteAmiss:
    written, string, fret, verdict, cause, times = row
    return NoteAmiss(
        written=written,
        string=string,
        fret=fret,
        verdict=_VERDICT_OF[verdict],
        cause=_CAUSE_OF.get(cause),
        times=int(times),
    )
