"""The marks of a class are a table that any grade book reads: a row a student, a column an assignment."""

import csv
import io
from datetime import date
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.classes.class_queries import SetInClass, StudentWeek
from game.practice_log.classes.need import Need
from game.report.marks_file import HEADINGS, marks_text, points_of, write_marks
from tests.refusing import refusal

DUE = date(2026, 12, 4)


def part(set_in="Week", number=0, stage="time", *, done=0, steps=1, due=DUE, withdrawn=False, assignment="d"):
    return SetInClass(
        assignment=assignment,
        part=number,
        stage=stage,
        title="The Ford",
        due=due,
        done=DUE if done == steps else None,
        set_in=set_in,
        opened=DUE,
        withdrawn=withdrawn,
        bars=None,
        level=None,
        a_day=None,
        target_bpm=None,
        steps=steps,
        steps_done=done,
    )


def somebody(name, *parts, number=1):
    return StudentWeek(
        student=UUID(int=number), name=name, need=Need.FINE, last_day=None, week_minutes=0.0, week_days=0,
        week_takes=0, before_minutes=0.0, read=0, clean=0, read_timed=0, clean_timed=0, found=0, found_s=0.0,
        slow=(), parts=parts, stuck=(),
    )  # fmt: skip


def read_back(text):
    return list(csv.reader(io.StringIO(text, newline="")))


@pytest.mark.parametrize(
    ("parts", "points"),
    [
        ([part()], 0),
        ([part(done=1)], 100),
        ([part(done=2, steps=3)], 66),
        ([part(number=at, done=3, steps=3) for at in range(3)], 100),
        # A tune of two stages, and lines: the tune is half of it.
        ([part(stage="places", done=1), part(stage="time"), part(number=1, stage="", done=5, steps=5)], 75),
        ([part(number=at, done=int(at > 0)) for at in range(200)], 99),
    ],
)
def test_points_say_how_much_of_it_is_done(parts, points):
    assert points_of(parts) == points


def test_a_row_for_each_student_and_a_column_for_each_assignment():
    text = marks_text(
        [
            somebody("Zoë", part(done=1), part("Later", due=date(2026, 12, 11)), number=1),
            somebody(
                "ada", part("WEEK", done=1, steps=2, assignment="older form"), part("Any day", due=None), number=2
            ),
            somebody("Ben", part(withdrawn=True), number=3),
        ]
    )
    assert text.endswith("\r\n")
    assert text.count("\r\n") == text.count("\n") == 4
    heading, *rows = read_back(text)
    assert heading == [*HEADINGS, "WEEK (2026-12-04)", "Later (2026-12-11)", "Any day"]
    assert rows == [
        [str(UUID(int=2)), "ada", "50", "", "0"],
        [str(UUID(int=3)), "Ben", "", "", ""],
        [str(UUID(int=1)), "Zoë", "100", "0", ""],
    ]


@pytest.mark.parametrize("evil", ["=cmd|'/c calc'!A1", "+1", "-1", "@SUM(A1)", '=HYPERLINK("x")', " =1+1"])
def test_names_and_titles_that_look_like_formulas_are_text(evil):
    heading, row = read_back(marks_text([somebody(evil, part(evil, done=1))]))
    assert row[1] == f"'{evil}"
    assert heading[2] == f"'{evil} (2026-12-04)"


def test_commas_quotes_and_lines_in_names_stay_in_their_cell():
    name = 'Doe, "Jo"\nJ'
    _, row = read_back(marks_text([somebody(name, part(done=1))]))
    assert row[1:] == [name, "100"]


def test_a_file_of_marks_is_replaced_and_nothing_else(tmp_path):
    path = tmp_path / "marks.csv"
    write_marks(path, [somebody("Ada", part())])
    write_marks(path, [somebody("Zoë", part(done=1))])
    raw = path.read_bytes()
    assert raw.startswith(b"student_id,student_name,Week (2026-12-04)\r\n")
    assert read_back(raw.decode())[1][1:] == ["Zoë", "100"]
    # A spreadsheet may have put its mark before it.
    path.write_bytes(b"\xef\xbb\xbf" + raw)
    write_marks(path, [])
    assert read_back(path.read_text()) == [list(HEADINGS)]
    mine = tmp_path / "list.csv"
    mine.write_text("id,name\nada.zip,Ada\n", encoding="utf-8")
    with refusal(LogError, "list.csv"):
        write_marks(mine, [])
    assert mine.read_text(encoding="utf-8") == "id,name\nada.zip,Ada\n"
    for name in ("marks.html", "nowhere/marks.csv"):
        with refusal(LogError, "marks"):
            write_marks(tmp_path / name, [])
    assert {one.name for one in tmp_path.iterdir()} == {"marks.csv", "list.csv"}
