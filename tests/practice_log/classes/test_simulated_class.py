"""Forty people who practised four weeks: each needs what was planted, and every number is counted three times: from the
raw events in their exports, in plain SQL from the gathered file, and by the program.
"""

import csv
import html
import os
import re
import shlex
import shutil
import sqlite3
from collections import Counter, defaultdict
from contextlib import closing
from dataclasses import astuple, fields
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from pathlib import Path
from statistics import median
from uuid import UUID

import pytest

from game.assignments.assignment_reader import read_assignment
from game.commands.accepted_words import accepts_words
from game.commands.main import main
from game.judging.verdicts import Verdict
from game.player.parts_in_log import parts_in_log
from game.practice_log.classes import file_owner, student_log
from game.practice_log.classes.class_figures import ClassFigures
from game.practice_log.classes.class_file import read_class
from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.class_schema import CAUSES, VERDICTS
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.classes.need import WEEK_DAYS, Need
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import AskedSchool, school_connection
from game.practice_log.school.school_erasure import erase_from_school
from game.report.monday.class_monday import class_monday
from game.report.page_names import page_name
from game.report.report_files import ClassPages, write_class
from game.report.student import student_report
from game.text.catalogue import say, tell
from tests.commands.running import answer, homefret
from tests.practice_log.classes.plain_counts import (
    PlainPart,
    PlainWeek,
    by_student,
    from_exports,
    plain_faults,
    plain_interval,
    plain_notes,
    plain_passages,
    plain_week,
    plain_weeks,
    set_and_done,
)
from tests.practice_log.classes.read_pages import days_in, figures_in, midi_of, note_in, tables_of
from tests.practice_log.classes.simulated_class import CUT_OFF, ERASED, TODAY, played_out
from tests.practice_log.school.schools import staffed
from tests.sampling import VARIABLE, only_where_all_is_run, runs_all, sample
from tests.speaking import speaking

DAYS = tuple(TODAY + timedelta(days=days) for days in (0, -1, -10, 3, 4, 8, 9))
"""The Monday, the evening before, a day in the midst of it all, and days on which evenings of practice lie at the very
beginning of a week, and of four.
"""


PASSAGES = """
SELECT passage, passage_key, takes, newest_bpm, clean_bpm, target_bpm FROM passage WHERE student = :student
"""
MARKS = "SELECT passage, mark, day FROM mark WHERE student = :student"
SET_PARTS = """
SELECT digest, part, set_in, title, target_bpm, due, done_day, withdrawn FROM set_part WHERE student = :student
"""


class AskedFile:
    """The gathered file, asked as a school's database is."""

    def __init__(self, connection):
        self.execute = connection.execute

    def of(self, player):
        return {"student": player.uuid.bytes}


class AskedDatabase(AskedSchool):
    """A school's PostgreSQL."""

    def of(self, player):
        return {"student": player.uuid}


@pytest.fixture(scope="module")
def played(tmp_path_factory):
    """The room, who is in the class, and the class gathered of it."""
    with pytest.MonkeyPatch.context() as patch:
        place = tmp_path_factory.mktemp("class")
        for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"):
            patch.setenv(name, str(place / "nobody"))
        room, students = played_out(place, everybody=runs_all())
        for module in (file_owner, student_log):
            patch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))
        told = gather_class(room.folder, place / "class.sqlite", parts_of=parts_in_log)
    with closing(sqlite3.connect(place / "class.sqlite")) as connection:
        yield room, students, connection, told


@cache
def raw(room, one):
    """What is in somebody's exports."""
    return from_exports(by_student(room.folder)[str(one.player.uuid)])


def test_each_needs_what_was_planted(played):
    _, students, connection, _ = played
    week = class_week(connection, TODAY)
    assert {one.student: one.need for one in week} == {one.player.uuid: one.need for one in students}
    assert {one.name for one in week} == {one.name for one in students}
    urgent = [list(Need).index(one.need) for one in week]
    assert urgent == sorted(urgent)


def test_a_file_that_is_cut_off_is_named_and_its_student_is_there_by_the_file_before(played):
    _, students, _, told = played
    sent = [one for one in students if one.name == "Quentin"]
    assert [dict(fault.values)["file"] for fault in told.faults] == [CUT_OFF] * len(sent)
    assert told.students == len(students)


def test_whoever_is_stuck_is_so_on_the_bars_and_for_the_cause_that_were_planted(played):
    _, students, connection, _ = played
    weeks = {one.student: one for one in class_week(connection, TODAY)}
    for one in students:
        stuck = weeks[one.player.uuid].stuck
        if one.need is not Need.STUCK:
            assert stuck == () or one.need in (Need.ABSENT, Need.OVERDUE)
            continue
        values = {"student": one.player.uuid.bytes, "passage": stuck[0]}
        (title,) = connection.execute(
            "SELECT title FROM passage WHERE student = :student AND passage = :passage", values
        ).fetchone()
        assert (len(stuck), title) == (1, one.stuck_on[0])
        amiss = connection.execute(
            "SELECT note.verdict, note.cause, COUNT(*) FROM note JOIN take USING (student, take) "
            "WHERE student = :student AND take.passage = :passage AND note.verdict <> :clean GROUP BY 1, 2 "
            "ORDER BY 3 DESC",
            {**values, "clean": VERDICTS[Verdict.CLEAN]},
        ).fetchall()
        verdict, cause, most = amiss[0]
        assert (verdict, cause) == (VERDICTS[one.verdict], None if one.cause is None else CAUSES[one.cause])
        assert most >= 0.9 * sum(times for *_, times in amiss)


@pytest.fixture(scope="module", params=["file", "school"])
def asked(request, played):
    """The class in its file; and the same brought into PostgreSQL, asked by its teacher."""
    _, _, connection, _ = played
    if request.param == "file":
        yield AskedFile(connection)
        return
    if not runs_all():
        pytest.skip(f"a database of its own, which the default run has not: {VARIABLE}=all")
    server = request.getfixturevalue("school_server")
    school = server.made(template=request.getfixturevalue("school_set_up"))
    staffed(server, school)
    (file,) = (path for _, name, path in connection.execute("PRAGMA database_list") if name == "main")
    bring_into_school(Path(file), server.address(school, "gina"), "3a")
    with school_connection(server.address(school, "anna")) as teacher:
        yield AskedDatabase(teacher)


@pytest.mark.parametrize("today", DAYS)
def test_every_number_of_the_week_is_what_the_raw_events_come_to(played, asked, today):
    room, students, _, _ = played
    weeks = {one.student: one for one in class_week(asked, today)}
    by_sql = plain_weeks(asked, today)
    assert weeks.keys() == {one.player.uuid for one in students}
    for one in students:
        plain = plain_week(raw(room, one), today)
        told = PlainWeek(*(getattr(weeks[one.player.uuid], field.name) for field in fields(PlainWeek)))
        assert astuple(told) == pytest.approx(astuple(plain), abs=1e-3), one.name
        if plain.last_day is not None:
            assert astuple(by_sql[one.player.uuid.bytes]) == pytest.approx(astuple(plain), abs=1e-3), one.name


def test_the_class_met_enough_for_its_numbers_to_tell_something(played):
    _, students, connection, _ = played
    weeks = class_week(connection, TODAY)
    assert sum(one.read for one in weeks) > 40 * len(students)
    assert sum(one.read_timed for one in weeks) > 5 * len(students)
    assert 0 < sum(one.clean_timed for one in weeks) < sum(one.read_timed for one in weeks)
    assert sum(one.found for one in weeks) > 20 * len(students)


def test_every_part_that_was_set_is_done_on_the_day_that_the_raw_events_tell(played, asked):
    room, students, _, _ = played
    undone = set()
    for one in students:
        plain = set_and_done(raw(room, one))
        rows = asked.execute(SET_PARTS, asked.of(one.player)).fetchall()
        assert {
            (digest, part): PlainPart(*what, date.fromisoformat(due), done and date.fromisoformat(done), gone == 1)
            for digest, part, *what, due, done, gone in rows
        } == plain, one.name
        late = [part for part in plain.values() if part.due < TODAY and part.done is None and not part.withdrawn]
        undone |= {one.name} if late else set()
    assert undone >= {one.name for one in students if one.need is Need.OVERDUE}
    assert undone <= {one.name for one in students if one.need in (Need.OVERDUE, Need.ABSENT)}


def test_tempo_and_marks_of_every_passage_are_what_the_raw_events_come_to(played, asked):
    room, students, _, _ = played
    for one in students:
        student = raw(room, one)
        passages = asked.execute(PASSAGES, asked.of(one.player)).fetchall()
        assert {key: tuple(numbers) for _, key, *numbers in passages} == plain_passages(student), one.name
        keys = {number: key for number, key, *_ in passages}
        marks = asked.execute(MARKS, asked.of(one.player)).fetchall()
        told = {(keys[number], mark): date.fromisoformat(day) for number, mark, day in marks if mark != "read"}
        assert told == student.earned, one.name


NEEDLES = (ERASED.name.encode(), b"Vergessen", str(ERASED.player.uuid).encode(), ERASED.player.uuid.bytes)


def left_of_erased(*places):
    """Files below these places in which the one who was erased is still found: by name, id or the file's own name."""
    return [
        file
        for place in places
        for file in place.rglob("*")
        if file.is_file() and any(needle in os.fsencode(file.name) + file.read_bytes() for needle in NEEDLES)
    ]


def test_of_who_is_erased_nothing_is_left_and_a_file_delivered_again_stays_out(played, tmp_path, own_home):
    room, students, _, _ = played
    folder = Path(shutil.copytree(room.folder, tmp_path / "class"))
    assert answer("gather", folder)["students"] == len(students)
    again = next(path for path in by_student(folder)[str(ERASED.player.uuid)])
    kept = shutil.copy(again, tmp_path / "kept by the postman.zip")
    # An export is packed: of it only the name of its file can be seen from outside.
    assert len(left_of_erased(folder, own_home)) >= 2
    done = homefret("erase", "--player", ERASED.player.uuid, "--from", folder, "--yes")
    assert (done.returncode, done.stderr) == (0, "")
    assert left_of_erased(folder, own_home) == []
    shutil.copy(kept, folder / "practice.zip")
    told = answer("gather", folder)
    assert told["students"] == len(students) - 1
    assert [sentence for sentence in told["faults"] if CUT_OFF not in sentence] == [
        "practice.zip is of a player who was erased here: nothing of it is taken in"
    ]
    with read_class(Path(told["file"])) as connection:
        week = class_week(connection, TODAY)
    assert {one.student: one.need for one in week} == {
        one.player.uuid: one.need for one in students if one is not ERASED
    }
    (folder / "practice.zip").unlink()
    assert left_of_erased(folder, own_home) == []


@only_where_all_is_run("a database for one test alone")
def test_of_who_is_erased_nothing_is_left_in_the_school(played, school_server, school, tmp_path):
    _, students, connection, _ = played
    staffed(school_server, school)
    address = school_server.address(school, "gina")
    file = tmp_path / "class.sqlite"
    with closing(sqlite3.connect(file)) as copy:
        connection.backup(copy)
    bring_into_school(file, address, "3a")
    erase_from_school(address, [ERASED.player.uuid], TODAY)
    bring_into_school(file, address, "3a")
    with school_connection(school_server.address(school)) as admin:
        tables = [name for (name,) in admin.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")]
        for table in tables:
            rows = repr(admin.execute(f"SELECT * FROM {table}").fetchall())
            assert str(ERASED.player.uuid) not in rows, table
            assert ERASED.name not in rows, table
    with school_connection(school_server.address(school, "anna")) as teacher:
        assert len(class_week(AskedSchool(teacher), TODAY)) == len(students) - 1


@pytest.fixture
def monday_morning(monkeypatch):
    """It is the day of the page: what is set next is due a week from then."""
    monkeypatch.setattr("game.commands.assign_command.wall_time", lambda: datetime.combine(TODAY, time(8), UTC))


ADVICE = {
    "Elif": ("key signature", "sharps or flats aloud", "letters,places"),
    "Farid": ("ledger lines", "Count the ledger lines", "letters,places"),
    "Greta": ("a line or space off", "Lines and spaces", "letters,places"),
    "Hugo": ("the hand", "The hand, not the reading", "places"),
    "Ines": ("early or late", "Rhythm alone", "rhythm"),
    "Bruno": ("12 November", "less", "places"),
    "Clara": ("23 November", "less", "places"),
    "Dario": ("5 November", "less", "places"),
    "Jonas": ("Lullaby", "Half of it", "time"),
    "Kaja": ("Old Hundredth", "Half of it", "time"),
}
"""What is wrong, what helps and which stages, after common practice of teaching (trade): misread notes are named before
they are played, a hand that slips goes slowly without the page, who is late takes the rhythm alone.
"""


@pytest.mark.usefixtures("monday_morning")
def test_monday_says_why_and_what_helps_of_those_who_were_planted_and_of_nobody_else(played, tmp_path, monkeypatch):
    _, students, connection, _ = played
    monkeypatch.chdir(tmp_path)
    mondays = {one.week.student: one for one in class_monday(connection, TODAY, accepts=accepts_words())}
    for one in students:
        monday = mondays[one.player.uuid]
        if one.need is Need.FINE:
            assert (monday.why, monday.lesson, monday.set_next) == ((), None, ""), one.name
            continue
        why, lesson, stages = ADVICE[one.name]
        said = " ".join(map(tell, monday.why))
        # In the few evenings of the sample they came last on another day.
        assert why in said or (one.need is Need.ABSENT and not runs_all()), one.name
        assert lesson in tell(monday.lesson), one.name
        if one.stuck_on:
            assert one.stuck_on[0] in said
        words = shlex.split(monday.set_next)
        assert words[0] == "homefret"
        assert main(words[1:]) == 0
        assignment = read_assignment(tmp_path / words[words.index("--out") + 1])
        (part,) = assignment.tunes
        assert ",".join(stage.value for stage in part.stages) == stages, one.name
        assert (assignment.due - TODAY).days == WEEK_DAYS
        if one.stuck_on:
            assert part.title == one.stuck_on[0]
    names = [monday.name for monday in mondays.values()]
    assert len(set(names)) == len(names)


@pytest.mark.usefixtures("monday_morning")
def test_the_school_answers_mondays_page_and_every_students_report_as_the_file_does(played, asked):
    _, students, connection, _ = played
    file, accepts = AskedFile(connection), accepts_words()
    there, here = (class_monday(which, TODAY, accepts=accepts, by_file=False) for which in (asked, file))
    assert there == here
    for one in students:
        reports = (
            student_report(ClassFigures(which, one.player.uuid), one.name, today=TODAY) for which in (asked, file)
        )
        there, here = (re.sub(r"\d+\.\d+", lambda one: f"{float(one[0]):.9f}", repr(report)) for report in reports)
        assert there == here, one.name


@pytest.fixture(scope="module")
def reported(played, tmp_path_factory):
    """The answer of `homefret report --from FOLDER --today DAY --json`, and where its pages lie."""
    if not runs_all():
        pytest.skip(f"forty pages with their pictures, which the default run has not: {VARIABLE}=all")
    room, *_ = played
    folder = tmp_path_factory.mktemp("reported") / "class"
    shutil.copytree(room.folder, folder)
    home = {name: str(folder.parent / "home") for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")}
    marks = folder.parent / "marks.csv"
    return answer("report", "--from", folder, "--today", TODAY, "--marks", marks, **home), folder


def test_every_number_in_the_answer_of_the_report_is_what_the_raw_events_come_to(played, reported):
    room, students, *_ = played
    told, _ = reported
    assert (told["today"], told["never_practised"]) == (TODAY.isoformat(), [])
    by_id = {student["id"]: student for student in told["students"]}
    assert by_id.keys() == {str(one.player.uuid) for one in students}
    for one in students:
        said, student = by_id[str(one.player.uuid)], raw(room, one)
        last = max(take.day for take in student.takes)
        week, own = plain_week(student, TODAY), plain_week(student, last)
        assert said["need"] == one.need.value
        assert said["week"] == {
            "days": week.week_days,
            "minutes": pytest.approx(week.week_minutes, abs=0.01),
            "takes": week.week_takes,
            "before_minutes": pytest.approx(week.before_minutes, abs=0.01),
        }
        # What stood in the answer before there was a day of the page ends with the student's own last day.
        assert said["last_day"] == last.isoformat()
        assert said["days"] == len({take.day for take in student.takes})
        assert said["minutes"] == pytest.approx(sum(take.minutes for take in student.takes), abs=0.01)
        assert said["week_minutes"] == pytest.approx(own.week_minutes, abs=0.01)
        sight = said["first_sight"]
        assert (sight["read"], sight["clean"]) == (own.read, own.clean)
        assert sight["share"] == (pytest.approx(own.clean / own.read) if own.read else None)
        pace = own.found / own.found_s if own.found else None
        assert said["notes_a_second"] == (None if pace is None else pytest.approx(pace, abs=1e-4))
        _same_notes(said["slow_notes"], student, last)
        _same_passages(said["passages"], student)
        assert {
            (part["assignment"], part["title"], part["due"], part["done"], part["withdrawn"]) for part in said["parts"]
        } == {
            (part.set_in, part.title, part.due.isoformat(), part.done and part.done.isoformat(), part.withdrawn)
            for part in set_and_done(student).values()
        }


def _same_notes(slow, student, last):
    lately = plain_notes(student, last - timedelta(days=27), last)
    ever = plain_notes(student, date.min, last)
    for note in slow:
        key = (note["written"], note["string"], note["fret"])
        plain = lately.get(key) or ever[key]
        assert (note["read"], note["clean"], note["causes"]) == (plain.read, plain.clean, dict(plain.causes))
        find_s = median(plain.found_s) if plain.found_s else None
        assert note["find_s"] == (None if find_s is None else pytest.approx(find_s, abs=1e-5))


def _same_passages(passages, student):
    plain, titles = plain_passages(student), {take.passage: take.title for take in student.takes}
    assert sorted(
        (one["title"], one["takes"], one["tempo"] or 0, one["clean_tempo"] or 0, one["target"]) for one in passages
    ) == sorted(
        (titles[key], takes, newest or 0, clean or 0, target) for key, (takes, newest, clean, target) in plain.items()
    )
    assert {(one["title"], mark["mark"], mark["day"]) for one in passages for mark in one["marks"]} == {
        (titles[key], mark, day.isoformat()) for (key, mark), day in student.earned.items()
    }


def test_every_number_on_mondays_page_is_what_the_raw_events_come_to(played, reported):
    room, students, *_ = played
    _, folder = reported
    page = (folder / "index.html").read_text(encoding="utf-8")
    rows = dict(re.findall(r'<tr><th scope="row">.*?(student-[0-9a-f]{12}\.html).*?</th>(.*?)</tr>', page))
    assert len(rows) == len(students)
    weeks = {one: plain_week(raw(room, one), TODAY) for one in students}
    for one, week in weeks.items():
        need, *cells = (
            re.sub("<.*?>", "", cell) for cell in re.findall(r"<td.*?>(.*?)</td>", rows[page_name(one.player.uuid)])
        )
        assert need == one.need.value
        untimed = (week.clean - week.clean_timed, week.read - week.read_timed)
        assert cells[:-1] == [
            f"{week.last_day.day} {week.last_day:%b}",
            str(week.week_days),
            _minutes(week.week_minutes),
            _minutes(week.before_minutes),
            str(week.week_takes),
            _share(*untimed),
            _share(week.clean_timed, week.read_timed),
        ], one.name
    practised = sum(week.week_takes > 0 for week in weeks.values())
    needs = Counter(one.need for one in students)
    sums = re.findall(r"<dd>(.*?)</dd></div>", page)[: 1 + len(Need)]
    assert sums == [f"{practised} of {len(students)}", *(str(needs[need]) for need in Need)]


def _minutes(minutes):
    return "under 1" if 0 < minutes < 0.5 else f"{minutes:.0f}"


def _share(clean, read):
    return f"{clean / read:.0%}" if read else "–"


def test_marks_are_what_the_raw_events_come_to(played, reported):
    """A hundred for all of what was set, each part counting the same; an empty cell for what was not."""
    room, students, *_ = played
    told, _ = reported
    with Path(told["marks"]).open(encoding="utf-8", newline="") as file:
        rows = {row["student_id"]: row for row in csv.DictReader(file)}
    assert rows.keys() == {str(one.player.uuid) for one in students}
    for one in students:
        parts = defaultdict(list)
        for part in set_and_done(raw(room, one)).values():
            if not part.withdrawn:
                parts[part.set_in].append(part.done is not None)
        row = rows[str(one.player.uuid)]
        points = {heading: int(cell) for heading, cell in row.items() if cell and not heading.startswith("student_")}
        assert {next(title for title in parts if title in heading): each for heading, each in points.items()} == {
            title: 100 * sum(done) // len(done) for title, done in parts.items()
        }, one.name


def test_pages_are_each_students_own_and_lead_to_nobody_else(played, reported):
    _, students, *_ = played
    told, folder = reported
    index = (folder / "index.html").read_text(encoding="utf-8")
    pages = {page_name(one.player.uuid) for one in students}
    assert pages == {path.name for path in folder.glob("student-*.html")}
    assert set(re.findall(r"student-[0-9a-f]{12}\.html", index)) == pages
    for student in told["students"]:
        page = Path(student["files"][0])
        content = page.read_text(encoding="utf-8")
        assert page.name == page_name(UUID(student["id"]))
        assert not pages - {page.name} & set(re.findall(r"student-[0-9a-f]{12}\.html", content))
        others = {one.name for one in students if one.name not in student["name"] and len(one.name) > 5}
        assert [name for name in others if html.escape(name) in content] == []
    for content in (index, *(path.read_text(encoding="utf-8") for path in folder.glob("student-*.html"))):
        assert "<script" not in content
        assert not re.search(r"""(?:src|href)=["'](?:https?:)?//""", content)


CAPTIONS = (
    "monday.everybody.caption", "monday.set.caption", "student.weeks.caption", "student.set.caption",
    "report.slow.caption", "student.wrong.caption", "student.stuck.caption", "student.lately.caption",
)  # fmt: skip


@pytest.fixture(scope="module", params=sample(("en", "de"), by_default=1))
def pages(request, played, tmp_path_factory):
    """The language, the tables of the class page and of each student's, and how students are called there."""
    _, _, connection, _ = played
    index = tmp_path_factory.mktemp("pages") / "index.html"
    with speaking(request.param):
        written = write_class(connection, ClassPages(index=index, today=TODAY, accepts=lambda _: True))
        of_students = {monday.week.student: _tables(index.parent / monday.page) for monday in written.mondays}
        of_class = _tables(index)
    names = {monday.week.student: monday.name for monday in written.mondays}
    return request.param, of_class, of_students, names


def _tables(page):
    """All rows below each caption, by its key."""
    found = tables_of(page.read_text(encoding="utf-8"))
    assert found.keys() <= set(map(say, CAPTIONS))
    return {key: [row for rows in found.get(say(key), []) for row in rows] for key in CAPTIONS}


def _weeks_of(student, ends=TODAY, weeks=1):
    return student.on(ends - timedelta(days=7 * weeks - 1), ends)


SPANS = ((TODAY, 1), (TODAY - timedelta(days=7), 1), (TODAY, 4))
"""This week, the one before, and four: the last day of each, and how many weeks."""


def test_the_weeks_on_every_students_page_are_what_the_raw_events_come_to(played, pages):
    room, students, *_ = played
    language, _, tables, _ = pages
    for one in students:
        student = raw(room, one)
        rows = tables[one.player.uuid]["student.weeks.caption"]
        minutes, days, takes, sight, sight_timed, found, marks = (
            [figures_in(c, language) for c in row[1:]] for row in rows
        )
        spans = [_weeks_of(student, *span) for span in SPANS]
        assert minutes == [[max(float(f"{sum(take.minutes for take in span):.0f}"), bool(span))] for span in spans], (
            one.name
        )
        assert days == [[len({take.day for take in span})] for span in spans]
        assert takes == [[len(span)] for span in spans]
        for told, timed in ((sight, False), (sight_timed, True)):
            assert told == [_sight([take for take in span if (take.bpm is not None) == timed]) for span in spans], (
                one.name
            )
        assert found == [_pace(span) for span in spans], one.name
        ends = [(ends - timedelta(days=7 * weeks), ends) for ends, weeks in SPANS]
        assert marks == [[sum(after < day <= until for day in student.earned.values())] for after, until in ends]


def _sight(takes):
    """The share in per cent, its interval, and of how many notes."""
    read = [take for take in takes if take.reading]
    notes, clean = sum(take.notes for take in read), sum(take.clean for take in read)
    return [*(_in_hundred(share) for share in (clean / notes, *plain_interval(clean, notes))), notes] if notes else []


def _in_hundred(share):
    return float(f"{share:.0%}".rstrip("%"))


def _pace(takes):
    seconds = [seconds for take in takes if take.reading for seconds in take.found.values()]
    return [float(f"{len(seconds) / sum(seconds):.2f}")] if seconds else []


def test_what_was_set_stands_on_every_students_page_with_its_days(played, pages):
    room, students, *_ = played
    language, _, tables, _ = pages
    for one in students:
        rows = tables[one.player.uuid]["student.set.caption"]
        told = [
            (
                what.split(",")[0],
                figures_in(what, language)[-1],
                *days_in(due, language),
                days_in(state, language),
                state,
            )
            for what, _, due, state in rows
        ]
        assert Counter(map(repr, ([*row[:4]] for row in told))) == Counter(
            repr([part.title, float(part.bpm), part.due, [part.done] if part.done and not part.withdrawn else []])
            for part in set_and_done(raw(room, one)).values()
        ), one.name
        late = {(part.title, part.due) for part in _undone(raw(room, one)) if part.due < TODAY}
        assert {
            (title, due) for title, _, due, _, state in told if figures_in(state, language) == [(TODAY - due).days]
        } == late


def _undone(student):
    return [part for part in set_and_done(student).values() if part.done is None and not part.withdrawn]


def test_slow_notes_on_every_page_are_read_found_and_wrong_as_often_as_the_raw_events_tell(played, pages):
    room, students, *_ = played
    language, index, tables, names = pages
    in_class = {row[0]: row[-1] for row in index["monday.everybody.caption"]}
    for one in students:
        rows = tables[one.player.uuid]["report.slow.caption"]
        lately = plain_notes(raw(room, one), TODAY - timedelta(days=27), TODAY)
        for note, string, fret, *told in rows:
            plain = lately[note_in(note), int(string), int(fret)]
            read, share, find, causes = (figures_in(cell, language) for cell in told)
            assert (read, share) == ([plain.read], [_in_hundred(plain.clean / plain.read)]), one.name
            assert find == ([float(f"{median(plain.found_s):.1f}")] if plain.found_s else []), one.name
            assert causes == [times for _, times in plain.causes.most_common()], one.name
        assert in_class[names[one.player.uuid]] == (", ".join(row[0] for row in rows[:3]) or "–"), one.name


def test_what_went_wrong_is_counted_on_every_page_as_in_the_raw_events(played, pages):
    room, students, *_ = played
    language, _, tables, _ = pages
    for one in students:
        student = raw(room, one)
        wrong = plain_faults(_weeks_of(student))
        rows = tables[one.player.uuid]["student.wrong.caption"]
        assert _faults_told([row[1:] for row in rows], language) <= _faults(student, wrong), one.name
        assert [int(row[-1]) for row in rows] == sorted(wrong.values(), reverse=True)[:6], one.name
        stuck = tables[one.player.uuid]["student.stuck.caption"]
        if one.need is Need.STUCK:
            there = plain_faults(take for take in _weeks_of(student, weeks=4) if take.title == one.stuck_on[0])
            assert _faults_told(stuck, language) <= _faults(student, there), one.name
            assert [int(row[-1]) for row in stuck] == sorted(there.values(), reverse=True)[:4], one.name


def _faults(student, counted):
    """As they stand on a page: note and bar, the key that sounded (None for elsewhere or nothing), and how often."""
    last = {take.passage: take for take in student.takes}
    return Counter(
        (
            last[passage].written[at][0],
            last[passage].bars[at],
            # The class reads guitar music, which sounds an octave below the page.
            None if verdict == "other place" or sounding is None else sounding + 12,
            times,
        )
        for (passage, at, verdict, sounding), times in counted.items()
    )


def _faults_told(rows, language):
    return Counter(
        (
            note_in(note),
            note.split()[-1],
            midi_of(note_in(played)) if re.search(r"[A-G].?\d", played) else None,
            *map(int, figures_in(times, language)),
        )
        for note, played, _, times in rows
    )


def test_tempi_of_what_was_played_in_the_week_are_what_the_raw_events_come_to(played, pages):
    room, students, *_ = played
    language, _, tables, _ = pages
    for one in students:
        student = raw(room, one)
        rows = tables[one.player.uuid]["student.lately.caption"]
        titles = {take.passage: take.title for take in _weeks_of(student)}
        expected = Counter(
            (titles[key], *(() if bpm is None else (float(f"{bpm:.0f}"),) for bpm in tempi))
            for key, (_, *tempi) in plain_passages(student).items()
            if key in titles and not (one.need is Need.STUCK and titles[key] == one.stuck_on[0])
        )
        told = Counter(
            (row[0].split(",")[0], *(tuple(figures_in(cell, language)) for cell in row[1:4])) for row in rows
        )
        assert told == expected, one.name


def test_set_and_done_on_the_class_page_is_what_the_raw_events_come_to(played, pages):
    room, students, *_ = played
    language, index, _, names = pages
    parts = defaultdict(list)
    for one in students:
        for key, part in set_and_done(raw(room, one)).items():
            if not part.withdrawn:
                parts[key].append((names[one.player.uuid], part))
    expected = []
    for who in parts.values():
        undone = [(name, part) for name, part in who if part.done is None]
        late = [name for name, part in undone if part.due < TODAY]
        part = who[0][1]
        if undone or part.due > TODAY - timedelta(days=WEEK_DAYS):
            done = [float(len(who) - len(undone)), float(len(who))]
            expected.append((part.due, f"{part.set_in}: {part.title}", done, late, len(undone) - len(late)))
    told = [
        (title.split(",")[0], figures_in(due, language)[0], figures_in(done, language), not_done)
        for title, due, done, not_done in index["monday.set.caption"]
    ]
    assert len(told) == min(len(expected), 16)
    shown = []
    for row in told:
        same = [
            one for one in expected if (one[1], one[0].day, one[2]) == row[:3] and _says(row[3], *one[3:], language)
        ]
        assert same, row
        expected.remove(same[0])
        shown.append(same[0][0])
    assert shown == sorted(shown)
    assert all(due >= shown[-1] for due, *_ in expected)


def _says(not_done, late, others, language):
    """Who is late, by name or how many more than six, and how many others are not done."""
    said = not_done
    for name in sorted(late, key=len, reverse=True)[:6] if len(late) <= 6 else ():
        if name not in said:
            return False
        said = said.replace(name, "")
    return len(late) > 6 or figures_in(said, language) == ([float(others)] if others else [])
