"""The page of a student: what lies ahead, the staff and the week's pages stand on it, and in the command's answer."""

import json
import re
from dataclasses import replace
from datetime import date, timedelta

import jsonschema
import msgspec
import pytest

from game.commands.report_answers import student_answer
from game.neck.neck_map import standard_map
from game.paths import shipped
from game.practice_log.queries.figure_records import DayFigures
from game.report.outlook import outlook
from game.report.report_files import WrittenReport
from game.report.student import SlowOnMap
from game.report.student_page import student_page
from game.text.catalogue import tell
from tests.report.month import write_month
from tests.report.reports_of_files import reports_of
from tests.report.week import write_week


@pytest.fixture(scope="module")
def report(tmp_path_factory):
    """The report of a month, with days that tell where they lead."""
    path = tmp_path_factory.mktemp("page") / "practice.sqlite"
    write_month(path)
    (found,) = reports_of(path)
    days = [
        DayFigures(
            day=date(2026, 1, 5) + timedelta(days=at),
            minutes=20,
            takes=10,
            read=0,
            clean=0,
            found=60,
            found_s=60 * (1 + 3 * 2.718281828 ** (-0.04 * at)),
        )
        for at in range(30)
    ]
    return replace(found, outlook=outlook(days))


def test_what_lies_ahead_stands_under_first_sight(report):
    page = student_page(report)
    (one,) = report.outlook
    sentence = tell(one.sentence)
    assert f"<p>{sentence}</p>" in page
    assert page.index("First sight</h2>") < page.index(sentence) < page.index("Days and minutes</h2>")
    assert "If it goes on like this" not in student_page(replace(report, outlook=()))


def test_each_take_of_the_week_has_a_figure_with_words_for_those_who_cannot_see_it(report):
    page = student_page(report)
    sheets = re.findall(r'<figure class="sheet">.*?</figure>', page, re.DOTALL)
    assert len(sheets) == len(report.pencilled) == 3
    for sheet, take in zip(sheets, report.pencilled, strict=True):
        assert 'role="img"' in sheet
        assert "pencil marks" in sheet
        assert f"Take {take.number} of " in sheet
    assert "homefret take --day" in page
    assert "homefret take --day" not in student_page(replace(report, pencilled=()))


def test_the_staff_stands_beside_the_map(report):
    page = student_page(report)
    assert (
        page.index("The map.") < page.index("Every note read in the last four weeks") < page.index("What got quicker")
    )


def test_the_answer_tells_outlook_and_pages_as_its_schema_says(report, tmp_path):
    written = WrittenReport(report=report, files=(tmp_path / "ada.html",))
    student = msgspec.to_builtins(student_answer(written))
    schema = json.loads(shipped("content", "schemas", "report.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate({"file": "ada.html", "faults": [], "students": [student]}, schema)
    (ahead,) = student["outlook"]
    assert (ahead["what"], ahead["limit"]) == ("time to find", 1.5)
    assert ahead["surely"][0] <= ahead["day"] <= ahead["surely"][1]
    assert [(page["day"], page["number"]) for page in student["pages"]] == [
        (take.day.isoformat(), take.number) for take in report.pencilled
    ]


def test_who_reads_several_maps_finds_the_slow_notes_of_each_under_its_name(report):
    other = SlowOnMap(standard_map(position=9), report.notes[:1])
    page = student_page(replace(report, slow_elsewhere=(other,)))
    first, second = page.index("<p>Position V, "), page.index("<p>Position IX, ")
    assert page.index("Slow notes</h2>") < first < second
    assert "<p>Position V, " not in student_page(report)


def test_the_slow_notes_of_a_map_that_was_left_are_told_apart(tmp_path):
    path = tmp_path / "practice.sqlite"
    write_week(path, slow_week(), neck_map=standard_map(position=9))
    (alone,) = reports_of(path)
    assert alone.slow
    assert alone.slow_elsewhere == ()
    write_week(path, [(600, 1, set(), 0.6)])
    (found,) = reports_of(path)
    assert found.neck_map == standard_map()
    assert [one.neck_map for one in found.slow_elsewhere] == [standard_map(position=9)]
    assert {(note.written, note.string, note.fret) for note in found.slow_elsewhere[0].slow} == {
        (note.written, note.string, note.fret) for note in alone.slow
    }


def slow_week():
    return [(minutes, row, {1, 2, 3}, 3.0) for minutes, row in ((0, 0), (5, 2), (10, 3), (15, 4))]
