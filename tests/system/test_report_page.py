"""The report in a real browser: quiet, whole by itself, and readable by everybody as far as a program can tell.

What is readable is judged by axe-core (npm, MPL-2.0), by its rules for WCAG 2.1 A and AA.
"""

import io
import json
from datetime import UTC, date, datetime

import pypdf
import pytest

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.class_file import read_class
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.opening import opened_log
from game.practice_log.school.head_sums import ClassSums
from game.practice_log.transfer.export import write_export
from game.report.monday.class_monday import class_monday
from game.report.monday.monday_page import monday_page
from game.report.report_files import ClassPages, write_class, write_own_report
from game.report.school_page import school_page
from tests.practice_log.classes.made_class import TODAY, days_ago, made_class
from tests.practice_log.logged_takes import PLAYER
from tests.report.month import write_month

pytestmark = pytest.mark.system

SCHOOL_CLASS = ClassSums(
    name="3a", teachers=("anna", "bob"), students=30, practised=20, week_minutes=1234.0, before_minutes=900.0,
    week_takes=400, read=4000, clean=3500, read_timed=1000, clean_timed=800,
)  # fmt: skip
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]


@pytest.fixture(scope="module")
def pages(tmp_path_factory, forty):
    """The page of all students, with one file that is broken, and that of a student."""
    folder = tmp_path_factory.mktemp("class")
    write_month(folder / "practice.log")
    with opened_log(folder / "practice.log") as connection:
        write_export(connection, PLAYER, folder / "ada.zip", now=datetime(2026, 6, 1, tzinfo=UTC))
    (folder / "broken.zip").write_bytes(b"no zip")
    told = gather_class(folder, folder / "class.sqlite")
    written = _written(folder / "class.sqlite", folder / "index.html", date(2026, 6, 1), told.faults)
    (folder / "school.html").write_text(school_page([SCHOOL_CLASS], date(2026, 11, 30)), encoding="utf-8")
    student = written.students[0].files[0]
    own = write_own_report(folder / "practice.log", folder / "own.html").files[0]
    return {"all": written.index, "student": student, "forty": forty, "school": folder / "school.html", "own": own}


def _written(file, index, today, faults=()):
    with read_class(file) as asked:
        return write_class(asked, ClassPages(index=index, today=today, accepts=lambda _: True), faults)


@pytest.fixture(scope="module")
def forty(tmp_path_factory):
    """The page of a class of forty: three are absent, five stuck, two overdue; everybody was set four parts."""
    folder = tmp_path_factory.mktemp("forty")
    with made_class(folder) as made:
        for number in range(1, 41):
            student = made.student(number, f"Anna-Lena Student{number}")
            if number > 3:
                made.day(student, 2, minutes=75.0)
                made.passage(student, title="In the Hall of the Mountain King", target=88)
            if 3 < number < 9:
                wrong = [(written, Verdict.WRONG_PITCH, Cause.LEDGER) for written in ("A5", "C#6", "Db4")]
                made.stuck(student, wrong, stage="time", bpm=64.0)
            for part in range(4):
                late = number in (9, 10) and part == 0
                done_day = None if late or part == 3 else days_ago(3)
                made.set_part(student, -4 if part == 3 else 2, part=part, done_day=done_day, title=f"Song {part}")
    return _written(folder / "made.sqlite", folder / "index.html", TODAY).index


@pytest.mark.parametrize("page", ["all", "student", "school"])
def test_a_page_asks_for_nothing_and_complains_of_nothing(window, pages, page):
    window.asked_for()
    window.log("browser")
    address = pages[page].as_uri()
    window.open(address)
    asked = window.asked_for()
    assert address in asked
    # What the browser's own first page still asks itself for, on a busy computer, is `chrome:`: no page of ours can.
    assert [url for url in asked if url != address and not url.startswith(("data:", "chrome:"))] == []
    assert window.log("browser") == []


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("page", ["all", "student", "forty", "school", "own"])
def test_a_page_has_no_fault_that_axe_finds(window, pages, axe, page, width):
    window.as_wide_as(width)
    window.open(pages[page].as_uri())
    words = json.dumps({"runOnly": RULES, "preload": False})
    found = window.run(f"{axe}; axe.run(document, {words}).then(arguments[arguments.length - 1]);")
    faults = [
        (fault["impact"], fault["id"], [node["target"] for node in fault["nodes"][:3]]) for fault in found["violations"]
    ]
    assert faults == []
    assert len(found["passes"]) > 10


@pytest.mark.parametrize("width", [390, 768])
@pytest.mark.parametrize("page", ["all", "forty", "school", "own"])
def test_on_a_phone_or_a_tablet_nothing_scrolls_sideways(window, pages, page, width):
    window.as_wide_as(width)
    window.open(pages[page].as_uri())
    assert window.run("arguments[0](document.documentElement.scrollWidth)") <= width


def test_a_class_of_forty_stands_on_two_sheets_of_paper(window, forty):
    """A4, ISO 216: 210 by 297 mm."""
    window.open(forty.as_uri())
    sheets = pypdf.PdfReader(io.BytesIO(window.printed(width_cm=21.0, height_cm=29.7))).pages
    assert len(sheets) == 2
    text = " ".join(" ".join(sheet.extract_text() for sheet in sheets).split())
    assert text.count("Anna-Lena") >= 40
    assert "37 of 40" in text
    assert "homefret assign" in text


def test_a_class_of_forty_in_which_nobody_practised_stands_on_two_sheets_of_paper_too(window, tmp_path):
    with made_class(tmp_path) as made:
        for number in range(1, 41):
            made.set_part(made.student(number, f"Maximilian-Alexander Student{number}"), 3)
    page = _written(tmp_path / "made.sqlite", tmp_path / "index.html", TODAY).index
    window.open(page.as_uri())
    assert len(pypdf.PdfReader(io.BytesIO(window.printed(width_cm=21.0, height_cm=29.7))).pages) == 2


def test_a_class_of_forty_who_are_all_overdue_and_have_three_slow_notes_stands_on_two_sheets_of_paper_too(
    window, tmp_path
):
    with made_class(tmp_path) as made:
        for number in range(1, 41):
            student = made.student(number, f"Student {number:02}")
            made.day(student, 1)
            for place, written in enumerate(("Bb4", "F#5", "C#4")):
                made.put("slow_note", student, map=1, place=place, written=written, sounding=58, string=4, fret=8)
            for part in range(4):
                title = f"A Song of the Long Road over the Hills and far beyond to the Sea {part}"
                where = {"part": part, "set_in": f"Third week of the term, set {part}", "first_bar": 1, "last_bar": 16}
                made.set_part(student, 2 + part, digest=f"d{part}", title=title, **where)
        students = class_monday(made.connection, TODAY, accepts=lambda _: True)
    (tmp_path / "index.html").write_text(monday_page(students, TODAY), encoding="utf-8")
    window.open((tmp_path / "index.html").as_uri())
    assert len(pypdf.PdfReader(io.BytesIO(window.printed(width_cm=21.0, height_cm=29.7))).pages) == 2


def test_axe_finds_a_fault_where_there_is_one(window, axe, tmp_path):
    (tmp_path / "bad.html").write_text("<!doctype html><title>x</title><img src='data:,'>", encoding="utf-8")
    window.open((tmp_path / "bad.html").as_uri())
    found = window.run(f"{axe}; axe.run(document).then(arguments[arguments.length - 1]);")
    assert {"image-alt", "html-has-lang"} <= {fault["id"] for fault in found["violations"]}
