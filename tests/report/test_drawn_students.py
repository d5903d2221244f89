"""Pages that several processes draw are those that one draws, whatever becomes of the processes."""

import pytest

from game.errors import LogError
from game.music.names import NoteNames
from game.practice_log.classes.class_file import open_class, read_class
from game.practice_log.classes.class_schema import insert_statement
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.classes.helper_processes import HelperProcess, HelperProcesses
from game.report import drawn_students as module
from game.report.drawn_students import DrawnPage, NoPage, PageTask, PageTerms, drawn_students, page_from_file
from game.report.monday.class_monday import class_monday
from tests.practice_log.classes.students import ADA, BEN, CEM, NOW, hand_in, student
from tests.refusing import refusal
from tests.speaking import speaking

TERMS = PageTerms(index="index.html", today=NOW.date(), names=NoteNames.GERMAN, told=False)


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    """A class of three, one of whom never practised and one whose rows make no sense."""
    folder = tmp_path_factory.mktemp("class")
    for nth, player in enumerate((ADA, BEN), start=1):
        hand_in(student(player, nth), folder / f"{player.name}.zip")
    gather_class(folder, folder / "class.sqlite")
    with open_class(folder / "class.sqlite") as connection:
        connection.execute(insert_statement("student"), (CEM.uuid.bytes, CEM.name, ""))
        connection.execute("UPDATE passage SET first_day = 'yesterday' WHERE student = ?", (BEN.uuid.bytes,))
    return folder / "class.sqlite"


def _drawn(file, *, asked_from=None):
    """What comes of each student, by name."""
    with speaking("de"), read_class(file) as asked, HelperProcesses() as helpers:
        mondays = class_monday(asked, TERMS.today, accepts=lambda _: True)
        return {
            monday.name: drawn
            for monday, drawn in drawn_students(asked, mondays, TERMS, file=asked_from, helpers=helpers)
        }


def _let_three_pages_be_worth_two_processes(monkeypatch):
    monkeypatch.setattr(module, "PAGES_FOR_EACH", 1)
    monkeypatch.setattr(module, "most_processes", lambda: 2)


@pytest.fixture(scope="module")
def alone(file):
    """What this process draws."""
    return _drawn(file)


def test_a_student_has_a_page_one_who_never_practised_none_and_rows_without_sense_are_named(alone):
    assert isinstance(alone["Ada"], DrawnPage)
    assert 'lang="de"' in alone["Ada"].text
    assert (alone["Cem"], alone["Ben"]) == (NoPage(), NoPage("ValueError"))


def test_several_processes_draw_the_same_in_the_same_language(file, alone, monkeypatch):
    _let_three_pages_be_worth_two_processes(monkeypatch)
    monkeypatch.setattr(module, "drawn_page", lambda *_: pytest.fail("the processes draw"))
    assert _drawn(file, asked_from=file) == alone


def test_what_a_process_that_broke_off_did_not_draw_is_drawn_here(file, alone, monkeypatch):
    _let_three_pages_be_worth_two_processes(monkeypatch)
    monkeypatch.setattr(HelperProcess, "ask", lambda *_: None)
    assert _drawn(file, asked_from=file) == alone


def test_few_pages_are_drawn_here(file, alone, monkeypatch):
    monkeypatch.setattr(HelperProcess, "ask", lambda *_: pytest.fail("no process is worth it"))
    assert _drawn(file, asked_from=file) == alone


def test_a_file_that_went_away_is_told_to_whoever_asked_for_the_page(file, tmp_path):
    with read_class(file) as asked:
        monday = class_monday(asked, TERMS.today, accepts=lambda _: True)[0]
    with refusal(LogError, "class.sqlite"):
        page_from_file(PageTask(tmp_path / "class.sqlite", "en", monday, TERMS))
