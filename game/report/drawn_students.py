"""The pages of the students of a class, drawn: by several processes where there are many, since each takes a while."""

from collections.abc import Generator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import date
from itertools import islice
from pathlib import Path

from game.music.names import NoteNames
from game.practice_log.classes.class_figures import ClassFigures
from game.practice_log.classes.class_file import read_class
from game.practice_log.classes.class_queries import AskedClass
from game.practice_log.classes.helper_processes import HelperProcesses, most_processes
from game.report.csv_files import csv_files
from game.report.monday.class_monday import StudentMonday
from game.report.pencilled_takes import MOST_PAGES, drawable
from game.report.student import WEEK, ReportSums, StudentReport, plain_report, student_report
from game.report.student_of_class import student_of_class
from game.text.catalogue import catalogue_in, choose, chosen

PAGES_FOR_EACH = 8
"""So many pages are worth another process: it takes as long to begin as to draw ten. Ours."""

_NONSENSE = (
    ValueError,
    TypeError,
    KeyError,
    IndexError,
    AttributeError,
    OverflowError,
    ArithmeticError,
    RecursionError,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PageTerms:
    """What holds for the pages of all students: the week ends `today`, `index` is the file name of the page of all.
    `told` where the reports are to tell as well what no page of a class does.
    """

    index: str
    today: date
    names: NoteNames
    told: bool


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """What a student's page tells in one line, the `text` of the page, and what stands in the `tables` beside it; their
    `report` only where it is to tell more.
    """

    sums: ReportSums
    text: str
    tables: tuple[bytes, ...]
    report: StudentReport | None = None


@dataclass(frozen=True, slots=True)
class NoPage:
    """Of a student who has not practised; or whose rows make no sense: the name of the `fault`."""

    fault: str = ""


@dataclass(frozen=True, slots=True)
class PageTask:
    """A page for another process to draw, of a class that it can ask itself."""

    file: Path
    language: str
    monday: StudentMonday
    terms: PageTerms


def drawn_students(
    asked: AskedClass,
    mondays: Sequence[StudentMonday],
    terms: PageTerms,
    *,
    file: Path | None = None,
    helpers: HelperProcesses,
) -> Generator[tuple[StudentMonday, DrawnPage | NoPage], None, None]:
    """The page of each student, in their order. Where the class is asked from a `file`, `helpers` ask it too."""
    processes = min(most_processes(), len(mondays) // PAGES_FOR_EACH)
    if file is None or processes < 2:
        for monday in mondays:
            yield monday, drawn_page(asked, monday, terms)
        return
    tasks = (PageTask(file, chosen().language, monday, terms) for monday in mondays)
    with closing(helpers.answers(page_from_file, tasks, processes)) as answers:
        for task, drawn in answers:
            yield task.monday, drawn or drawn_page(asked, task.monday, terms)


def page_from_file(task: PageTask) -> DrawnPage | NoPage:
    """Draw a page in a process that does nothing else. Raises `LogError` for a file that cannot be read any more."""
    choose(catalogue_in(task.language))
    with read_class(task.file) as asked:
        return drawn_page(asked, task.monday, task.terms)


def make_ready() -> None:
    """Load what pages are drawn with: the first one comes as soon as the others then."""
    import game.report.student_sheets  # noqa: F401, PLC0415 - engraving is slow to load


def drawn_page(asked: AskedClass, monday: StudentMonday, terms: PageTerms) -> DrawnPage | NoPage:
    """Draw the page of one student."""
    from game.report.student_sheets import student_sheets  # noqa: PLC0415 - engraving is slow to load

    figures = ClassFigures(asked, monday.week.student)
    try:
        report = _report_of(figures, monday.name, told=terms.told)
        if report is None:
            return NoPage()
        seen = student_of_class(asked, monday.week, terms.today, figures)
        text = student_sheets(seen, monday, index=terms.index, names=terms.names)
        return DrawnPage(report.sums, text, csv_files(report), report if terms.told else None)
    except _NONSENSE as error:
        return NoPage(type(error).__name__)


def _report_of(figures: ClassFigures, name: str, *, told: bool) -> StudentReport | None:
    """What a student's practice came to, up to the last day of it."""
    if not told:
        return plain_report(figures, name)
    report = student_report(figures, name)
    if report is None:
        return None
    return replace(report, pencilled=tuple(islice(drawable(figures.marked_takes(report.until, WEEK)), MOST_PAGES)))
