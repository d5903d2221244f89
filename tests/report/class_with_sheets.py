"""A class of three in memory, for the tests of a student's page: Ada is stuck on three passages of many and has more
set than fits, Ben has little of everything, and Cem nothing at all.
"""

import sqlite3
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache

from game.coach.stages import Stage
from game.message import Message, message
from game.practice_log.classes.class_queries import StudentWeek, class_week
from game.practice_log.classes.class_schema import table_statements
from game.practice_log.classes.class_writing import SetPart, no_parts, put_practice
from game.practice_log.rows.log_records import Terms
from game.report.page_names import page_name
from game.report.student_of_class import student_of_class
from game.report.student_sheets import student_sheets
from tests.made import passage
from tests.practice_log.classes.students import ADA, BEN, CEM, Pupil
from tests.report.month import LINES

TODAY = date(2026, 11, 30)
LONG = "A title of a tune that goes on and on over more than a line of any table, " * 3
TITLES = ("The Ford at Low Water", LONG, "Morning & Evening <slowly>")
PLACES = Terms(stage=Stage.PLACES)
NAMES = ("C5", "D5", "E5", "F5", "G4", "A4", "Bb4", "F4")


@dataclass(frozen=True)
class Advised:
    """A student with advice."""

    week: StudentWeek
    name: str
    why: tuple[Message, ...] = ()
    lesson: Message | None = None
    set_next: str = ""
    hint: Message | None = None
    caution: Message | None = None


def advised(week, **more):
    """With as much advice as there ever is."""
    told = {
        "why": (message("report.advice.breaks"), message("report.advice.posture"), message("report.advice.pain")),
        "lesson": message("report.advice.listening"),
        "set_next": f"homefret assign --title '{LONG[:60]}' --tune 'The Ford at Low Water:1-2' --stage letters,places "
        "--due 2026-12-07 --out ada-lovelace.toml",
        "hint": message("report.advice.breaks"),
        "caution": message("report.steep_rise", now=240.0, usual=60.0),
    }
    return Advised(week, f"{week.name} Lovelace", **{**told, **more})


@cache
def class_of_three():
    """The class, the same one for whoever asks; nobody changes it for good."""
    into = sqlite3.connect(":memory:", isolation_level=None)
    for statement in table_statements(id_type="BLOB", ending=" WITHOUT ROWID"):
        into.execute(statement)
    for player, stuck, studies, parts in ((ADA, 4, 8, 17), (BEN, 1, 2, 3), (CEM, 0, 0, 0)):
        into.execute("INSERT INTO student VALUES (?, ?, ?)", (player.uuid.bytes, player.name, ""))
        pupil = Pupil(player, 1 + parts)
        if studies:
            _practise(pupil, stuck, studies)
        of_student = _set(parts)
        put_practice(into, player.uuid, pupil.computer.log, of_student if parts else no_parts)
    return into


def weeks_of(connection, today=TODAY):
    """Each student's week, by name."""
    return {week.name: week for week in class_week(connection, today)}


def _practise(pupil, stuck, studies):
    """Passages that do not get on, every third day, at two tempi; and in the last week other ones, in the order of
    time.
    """
    rows = ("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h")
    tunes = [_titled((*rows, f"D5 q, E5 q, F5 q, {NAMES[at]} q"), (*TITLES, "A fourth")[at]) for at in range(stuck)]
    for ago in range(12, -1, -1):
        day = TODAY - timedelta(days=ago)
        for nth in range(studies if ago < 6 else 0):
            if nth % 6 == ago:
                pupil.day(day, PLACES, right=0.4, takes=1, tune=_study(nth), at_minute=9 * 60 + 7 * nth)
        if ago == 0 and stuck > 1:
            long = _titled([f"{NAMES[nth % 8]} q, F#4 q, Bb4 q, {NAMES[nth % 5]} q" for nth in range(24)], LONG)
            pupil.day(day, PLACES, right=0.1, takes=1, tune=long, at_minute=14 * 60)
        if ago % 3 == 0:
            for at, tune in enumerate(tunes):
                terms = Terms(stage=Stage.TIME, tempo_bpm=60.0 + 4 * (ago % 2) + 10 * at)
                pupil.day(day, terms, right=0.5, takes=3, tune=tune, at_minute=16 * 60 + 40 * at)
            pupil.day(day, PLACES, right=0.7, takes=2, tune=LINES[ago % 2], at_minute=20 * 60)


def _study(nth):
    one, other, last = (NAMES[(nth * by + at) % 8] for by, at in ((1, 0), (3, 1), (5, 2)))
    return _titled((f"{one} q, G4 q, {other} q, Bb4 q", f"{last} h, F#4 h"), f"Study {nth + 1}")


def _titled(rows, title):
    tune = passage(*rows, key=-1)
    return replace(tune, score=replace(tune.score, title=title))


def _set(many):
    """Parts of every state, one of them lines."""
    opened = (TODAY - timedelta(days=9)).isoformat()

    def parts_of(_log, _player):
        yield SetPart(digest="lines", part=0, stage="", title="", due="2026-12-03", opened_day=opened, level=3, a_day=2,
            steps=7, step_days="2026-11-28 2026-11-29")  # fmt: skip
        for at in range(many - 1):
            yield SetPart(
                digest=f"set {at // 4}",
                part=at % 4,
                stage=("places", "time", "", "rhythm")[at % 4],
                title=TITLES[at % 2],
                due=(TODAY + timedelta(days=at - 4)).isoformat(),
                done_day="2026-11-28" if at % 4 == 1 else None,
                opened_day=opened if at % 5 else "",
                withdrawn=int(at == 3),
                first_bar=1,
                last_bar=8,
                target_bpm=92 if at % 2 else None,
                steps=3 if at % 2 else 1,
            )

    return parts_of


def write_student(asked, student, folder, today, *, index=None):
    """The page of a student, written into a folder under the name that is theirs; where it lies."""
    page = folder / page_name(student.week.student)
    folder.mkdir(parents=True, exist_ok=True)
    seen = student_of_class(asked, student.week, today)
    page.write_text(student_sheets(seen, student, index=index), encoding="utf-8")
    return page
