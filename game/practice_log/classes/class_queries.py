"""What is asked of a gathered class: statements that SQLite and PostgreSQL both have, and the records they come to.

Values go by name (`:today`). Days are text; `after` and `before` are the days before a week begins, which are out.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from operator import itemgetter
from typing import Any, Protocol
from uuid import UUID

from game.practice_log.classes.need import STUCK_TAKES, WEEK_DAYS, Need, PassageTake, is_overdue, is_stuck, need_of

FOUR_WEEKS_DAYS = 28

STUDENTS = """
SELECT student.student, student.name, student.named, MAX(day.day),
    SUM(CASE WHEN day.day > :after THEN day.minutes ELSE 0 END),
    COUNT(CASE WHEN day.day > :after THEN 1 END),
    SUM(CASE WHEN day.day > :after THEN day.takes ELSE 0 END),
    SUM(CASE WHEN day.day > :before AND day.day <= :after THEN day.minutes ELSE 0 END),
    SUM(CASE WHEN day.day > :weeks THEN day.read ELSE 0 END),
    SUM(CASE WHEN day.day > :weeks THEN day.clean ELSE 0 END),
    SUM(CASE WHEN day.day > :weeks THEN day.read_timed ELSE 0 END),
    SUM(CASE WHEN day.day > :weeks THEN day.clean_timed ELSE 0 END),
    SUM(CASE WHEN day.day > :weeks THEN day.found ELSE 0 END),
    SUM(CASE WHEN day.day > :weeks THEN day.found_s ELSE 0 END)
FROM student LEFT JOIN day ON day.student = student.student AND day.day <= :today
GROUP BY student.student, student.name, student.named
ORDER BY student.student
"""
"""Each student with the week that ends today, the minutes of the week before, and the first sight of four weeks."""

SLOW = """
SELECT student, written, string, fret, find_s, cost_s, unsure FROM slow_note WHERE map = 1 ORDER BY student, place
"""
"""The slow notes of the map that each student played last."""

SET_PARTS = """
SELECT student, digest, part, stage, title, due, done_day, set_in, opened_day, withdrawn, first_bar, last_bar, level,
    a_day, target_bpm, steps, step_days
FROM set_part WHERE opened_day <= :today ORDER BY student, due, digest, part, stage
"""
"""What was set up to a day, what is due first at the head (what has no day before all)."""

LAST_TAKES = f"""
SELECT student, passage, day, stage, tempo_bpm, notes, clean, in_time, clean_in_time, clean_before
FROM (
    SELECT played.student, played.passage, played.place, played.day, played.stage, played.tempo_bpm, played.notes,
        played.clean, played.in_time, played.clean_in_time,
        ROW_NUMBER() OVER (PARTITION BY played.student, played.passage ORDER BY played.place DESC) AS back,
        MAX(CASE WHEN played.clean_in_time = 1 THEN played.tempo_bpm END) OVER (
            PARTITION BY played.student, played.passage ORDER BY played.place
            ROWS BETWEEN UNBOUNDED PRECEDING AND {STUCK_TAKES} PRECEDING
        ) AS clean_before
    FROM (
        SELECT passage.student, passage.passage FROM passage
        WHERE passage.last_day > :after AND passage.first_day <= :today
    ) AS lately
    JOIN take AS played ON played.student = lately.student AND played.passage = lately.passage
        AND played.day <= :today
) AS ranked
WHERE back <= {STUCK_TAKES}
ORDER BY student, passage, place
"""
"""The last takes of each passage that was played in the week, the oldest first, and at the newest the fastest clean one
of all that came before them.
"""

MARKS = """
SELECT student, passage, mark, day FROM mark WHERE day <= :today ORDER BY student, passage, day
"""

PASSAGES = """
SELECT passage, passage_key, title, first, last, newest_bpm, clean_bpm, target_bpm FROM passage
WHERE student = :student ORDER BY passage
"""


class AskedClass(Protocol):
    """A connection to a class in either database: ids come as 16 bytes or as `UUID`."""

    def execute(self, statement: str, values: dict[str, Any], /) -> Any:
        """The rows of a statement."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlowInClass:
    """A slow note of a student: seconds to find, and what it costs, wrong answers counted."""

    written: str
    string: int
    fret: int
    find_s: float
    cost_s: float
    unsure: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SetInClass:
    """A stage of a part that was set, as `class_writing.SetPart` tells of it, on a day: what was done later is not done
    yet. `set_in` is the title of the assignment; `opened` is None where the student never opened it, `bars` where all
    of a tune was set, `level` and `a_day` for a tune. Of `steps` so many are done as `steps_done` says.
    """

    assignment: str
    part: int
    stage: str
    title: str
    due: date | None
    done: date | None
    set_in: str
    opened: date | None
    withdrawn: bool
    bars: tuple[int, int] | None
    level: int | None
    a_day: int | None
    target_bpm: int | None
    steps: int
    steps_done: int

    def is_overdue(self, today: date) -> bool:
        """Whether it is undone past its day. What the student withdrew is not."""
        return not self.withdrawn and is_overdue(self.due, self.done, today)


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentWeek:
    """What a teacher sees first of a student. `need` is the first that holds, `stuck` the numbers of the passages that
    do not get on; the week ends today, `before_minutes` are of the week before it. First sight is of four weeks: of
    `read` notes `clean` were right, and of those `read_timed` were against the click, `clean_timed` of them right.
    """

    student: UUID
    name: str
    need: Need
    last_day: date | None
    week_minutes: float
    week_days: int
    week_takes: int
    before_minutes: float
    read: int
    clean: int
    read_timed: int
    clean_timed: int
    found: int
    found_s: float
    slow: tuple[SlowInClass, ...]
    parts: tuple[SetInClass, ...]
    stuck: tuple[int, ...]


def class_week(asked: AskedClass, today: date) -> tuple[StudentWeek, ...]:
    """All students, the one who needs their teacher most first, then by name."""
    values = _week(today)
    slow, parts, stuck = _slow(asked), _parts(asked, today), _stuck(asked, values)
    weeks = []
    for row in asked.execute(STUDENTS, values).fetchall():
        student = as_uuid(row[0])
        name, named, last, *sums = row[1:]
        last_day = None if last is None else date.fromisoformat(last)
        set_parts = tuple(parts[student])
        overdue = any(part.is_overdue(today) for part in set_parts)
        week_minutes, week_days, week_takes, before_minutes, *reading, found, found_s = sums
        read, clean, read_timed, clean_timed = map(int, reading)
        weeks.append(
            StudentWeek(
                student=student,
                name=named or name,
                need=need_of(last_day, today, overdue=overdue, stuck=bool(stuck[student])),
                last_day=last_day,
                week_minutes=float(week_minutes),
                week_days=int(week_days),
                week_takes=int(week_takes),
                before_minutes=float(before_minutes),
                read=read,
                clean=clean,
                read_timed=read_timed,
                clean_timed=clean_timed,
                found=int(found),
                found_s=float(found_s),
                slow=tuple(slow[student]),
                parts=set_parts,
                stuck=tuple(stuck[student]),
            )
        )
    urgent = list(Need)
    return tuple(sorted(weeks, key=lambda one: (urgent.index(one.need), one.name.casefold(), one.student)))


def _week(today: date) -> dict[str, Any]:
    return {
        "today": today.isoformat(),
        "after": (today - timedelta(days=WEEK_DAYS)).isoformat(),
        "before": (today - timedelta(days=2 * WEEK_DAYS)).isoformat(),
        "weeks": (today - timedelta(days=FOUR_WEEKS_DAYS)).isoformat(),
    }


def as_uuid(value: Any) -> UUID:
    """The id of a student, in whichever form a database gives it."""
    return value if isinstance(value, UUID) else UUID(bytes=bytes(value))


def _slow(asked: AskedClass) -> defaultdict[UUID, list[SlowInClass]]:
    found: defaultdict[UUID, list[SlowInClass]] = defaultdict(list)
    for student, written, string, fret, find_s, cost_s, unsure in asked.execute(SLOW, {}).fetchall():
        note = SlowInClass(written=written, string=string, fret=fret, find_s=find_s, cost_s=cost_s, unsure=bool(unsure))
        found[as_uuid(student)].append(note)
    return found


def _parts(asked: AskedClass, today: date) -> defaultdict[UUID, list[SetInClass]]:
    found: defaultdict[UUID, list[SetInClass]] = defaultdict(list)
    until = today.isoformat()
    for student, *row in asked.execute(SET_PARTS, {"today": until}).fetchall():
        digest, part, stage, title, due, done, set_in, opened, withdrawn, first, last, *rest, steps, step_days = row
        level, a_day, target_bpm = rest
        is_done = done is not None and done <= until
        found[as_uuid(student)].append(
            SetInClass(
                assignment=digest,
                part=part,
                stage=stage,
                title=title,
                due=date.fromisoformat(due) if due else None,
                done=date.fromisoformat(done) if is_done else None,
                set_in=set_in,
                opened=date.fromisoformat(opened) if opened else None,
                withdrawn=bool(withdrawn),
                bars=None if first is None else (first, last),
                level=level,
                a_day=a_day,
                target_bpm=target_bpm,
                steps=steps,
                steps_done=steps if is_done else sum(day <= until for day in step_days.split()),
            )
        )
    return found


def _stuck(asked: AskedClass, values: dict[str, Any]) -> defaultdict[UUID, list[int]]:
    marks: defaultdict[tuple[Any, int], list[tuple[str, date]]] = defaultdict(list)
    for student, passage, mark, day in asked.execute(MARKS, {"today": values["today"]}).fetchall():
        marks[student, passage].append((mark, date.fromisoformat(day)))
    found: defaultdict[UUID, list[int]] = defaultdict(list)
    for (student, passage), takes, clean_before in _last_takes(asked, values):
        if is_stuck(takes, marks[student, passage], clean_before):
            found[as_uuid(student)].append(passage)
    return found


def _last_takes(
    asked: AskedClass, values: dict[str, Any]
) -> Iterator[tuple[tuple[Any, int], Sequence[PassageTake], float | None]]:
    wanted = {name: values[name] for name in ("today", "after")}
    rows = asked.execute(LAST_TAKES, wanted).fetchall()
    for passage, of_passage in groupby(rows, key=itemgetter(0, 1)):
        takes, clean_before = [], None
        for _, _, *told, clean_before in of_passage:  # noqa: B007
            takes.append(passage_take(*told))
        # One that was played again only after `today` is none of this week.
        if takes[-1].day.isoformat() > wanted["after"]:
            yield passage, takes, clean_before


def passage_take(
    day: str, stage: str, tempo_bpm: float | None, notes: int, clean: int, in_time: int, clean_in_time: int
) -> PassageTake:
    """A take out of the columns that say how it went."""
    return PassageTake(
        day=date.fromisoformat(day),
        stage=stage,
        tempo_bpm=tempo_bpm,
        notes=notes,
        clean=clean,
        in_time=in_time,
        is_clean=bool(clean_in_time),
    )
