"""What a head sees of a school: each class in the week that ends today, by sums of days, without a name or a note.

Asked of `day_sums` and of who is in which class, which is all that a head may read.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from game.practice_log.classes.class_queries import FOUR_WEEKS_DAYS, AskedClass
from game.practice_log.classes.need import WEEK_DAYS

_CLASSES = """
WITH pupil AS (SELECT DISTINCT class, student FROM class_student),
lately AS (
    SELECT student,
        SUM(CASE WHEN day > :after THEN minutes ELSE 0 END) AS week_minutes,
        SUM(CASE WHEN day <= :after AND day > :before THEN minutes ELSE 0 END) AS before_minutes,
        COUNT(CASE WHEN day > :after THEN 1 END) AS week_days,
        SUM(CASE WHEN day > :after THEN takes ELSE 0 END) AS week_takes,
        SUM(read) AS read, SUM(clean) AS clean, SUM(read_timed) AS read_timed, SUM(clean_timed) AS clean_timed
    FROM day_sums WHERE day > :weeks AND day <= :today GROUP BY student
)
SELECT pupil.class, COUNT(*), COUNT(CASE WHEN lately.week_days > 0 THEN 1 END),
    COALESCE(SUM(lately.week_minutes), 0), COALESCE(SUM(lately.before_minutes), 0),
    COALESCE(SUM(lately.week_takes), 0), COALESCE(SUM(lately.read), 0), COALESCE(SUM(lately.clean), 0),
    COALESCE(SUM(lately.read_timed), 0), COALESCE(SUM(lately.clean_timed), 0)
FROM pupil LEFT JOIN lately ON lately.student = pupil.student
GROUP BY pupil.class ORDER BY pupil.class
"""
_TEACHERS = "SELECT class, teacher FROM teacher_class ORDER BY class, teacher"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassSums:
    """A class in a week: of its `students` so many `practised`, in minutes and takes; the minutes of the week before;
    and of the notes read at first sight in four weeks how many were right, and how many of them were against the click.
    """

    name: str
    teachers: tuple[str, ...]
    students: int
    practised: int
    week_minutes: float
    before_minutes: float
    week_takes: int
    read: int
    clean: int
    read_timed: int
    clean_timed: int

    @property
    def absent(self) -> int:
        """How many have no take in the week."""
        return self.students - self.practised

    @property
    def share(self) -> float | None:
        """The first-sight score, 0 to 1; None where nothing was read."""
        return self.clean / self.read if self.read else None


def head_sums(asked: AskedClass, today: date) -> tuple[ClassSums, ...]:
    """Each class of the school, by its name; also one that has a teacher and no student yet."""
    values = {
        name: (today - timedelta(days=days)).isoformat()
        for name, days in (("today", 0), ("after", WEEK_DAYS), ("before", 2 * WEEK_DAYS), ("weeks", FOUR_WEEKS_DAYS))
    }
    teachers: dict[str, list[str]] = {}
    for name, teacher in asked.execute(_TEACHERS, {}).fetchall():
        teachers.setdefault(name, []).append(teacher)
    found = {row[0]: row[1:] for row in asked.execute(_CLASSES, values).fetchall()}
    return tuple(
        _sums(name, tuple(teachers.get(name, ())), found.get(name, (0,) * 9))
        for name in sorted(found.keys() | teachers.keys())
    )


def _sums(name: str, teachers: tuple[str, ...], row: tuple[Any, ...]) -> ClassSums:
    students, practised, week_minutes, before_minutes, *counts = row
    week_takes, read, clean, read_timed, clean_timed = map(int, counts)
    return ClassSums(
        name=name,
        teachers=teachers,
        students=students,
        practised=practised,
        week_minutes=float(week_minutes),
        before_minutes=float(before_minutes),
        week_takes=week_takes,
        read=read,
        clean=clean,
        read_timed=read_timed,
        clean_timed=clean_timed,
    )
