"""The marks of a class for a grade book: a CSV file (RFC 4180) as grade books commonly import it (mem): a line of
headings, a row for each student with an id that never changes, a column for each assignment, points from 0 to 100.

In UTF-8 without its mark: a grade book finds its columns by their headings, and with the mark before it the first one
is another. Spreadsheets that take the file for something else can be told; ids and points are the same in any case.
"""

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date
from itertools import groupby
from pathlib import Path
from statistics import fmean
from typing import Final

from game.errors import LogError, reason_of
from game.paths import write_whole_file
from game.practice_log.classes.class_queries import SetInClass, StudentWeek
from game.report.csv_files import safe_cell

ENDING: Final = ".csv"
HIGHEST: Final = 100
HEADINGS: Final = ("student_id", "student_name")
"""By which a file of marks is known again; they are the same in every language."""

_Assigned = tuple[str, date | None]


def write_marks(path: Path, students: Iterable[StudentWeek]) -> None:
    """Write the marks of a class as they stand on the day its week ends, whole or not at all. A file of marks that is
    there is replaced. Raises `LogError` for a name of another kind, a file that holds something else, or one that
    cannot be written.
    """
    if path.suffix.casefold() != ENDING:
        raise LogError("command.report.marks_ending", out=path, ending=ENDING)
    try:
        if path.exists() and path.stat().st_size and not _is_marks(path):
            raise LogError("command.report.no_marks_file", out=path)
        write_whole_file(path, marks_text(students).encode())
    except OSError as error:
        raise LogError("command.report.marks_not_written", out=path, reason=reason_of(error)) from error


def marks_text(students: Iterable[StudentWeek]) -> str:
    """The rows, by name. Assignments stand in the order of their due days, those without one at the end. Each is called
    by its title and that day, so that two of one title are two; empty cells are for whoever it was not set, or who
    withdrew it.
    """
    rows = sorted(students, key=lambda one: (one.name.casefold(), one.student))
    of_each = [_points(one.parts) for one in rows]
    columns = sorted(
        {assigned for points in of_each for assigned in points}, key=lambda one: (one[1] or date.max, one[0])
    )
    titles = {_assigned(part): part.set_in for one in reversed(rows) for part in one.parts}
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\r\n")
    lines.writerow([*HEADINGS, *(safe_cell(_heading(titles[one], one[1])) for one in columns)])
    for one, points in zip(rows, of_each, strict=True):
        lines.writerow([one.student, safe_cell(one.name), *(points.get(column, "") for column in columns)])
    return out.getvalue()


def points_of(parts: Sequence[SetInClass]) -> int:
    """What is done of an assignment, of a hundred: each part counts the same, in it each stage, in that each page or
    day. A hundred is for all of it only.
    """
    of_parts = [
        fmean(one.steps_done / one.steps for one in stages) for _, stages in groupby(parts, key=lambda one: one.part)
    ]
    return int(HIGHEST * fmean(of_parts) + _ROUNDING)


_ROUNDING = 1e-9
"""Three thirds are a whole."""


def _points(parts: Sequence[SetInClass]) -> dict[_Assigned, int]:
    of_each: dict[_Assigned, list[SetInClass]] = {}
    for one in parts:
        if not one.withdrawn:
            of_each.setdefault(_assigned(one), []).append(one)
    return {
        assigned: points_of(sorted(of_one, key=lambda one: (one.assignment, one.part)))
        for assigned, of_one in of_each.items()
    }


def _assigned(one: SetInClass) -> _Assigned:
    return one.set_in.casefold(), one.due


def _heading(title: str, due: date | None) -> str:
    return title if due is None else f"{title} ({due.isoformat()})"


def _is_marks(path: Path) -> bool:
    with path.open("rb") as file:
        first = file.read(len(",".join(HEADINGS)) + len(_BYTE_ORDER))
    return first.removeprefix(_BYTE_ORDER).startswith(",".join(HEADINGS).encode())


_BYTE_ORDER = "\ufeff".encode()
