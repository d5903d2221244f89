"""A page for each student of a folder, one of all, and a sentence for each file that cannot be read."""

import csv
import json
import shutil
import sqlite3
import zipfile
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from itertools import count
from random import Random
from uuid import UUID

import pytest

from game.errors import LogError
from game.judging.verdicts import Verdict
from game.message import message
from game.music.names import NoteNames
from game.practice_log.classes.class_file import forget_student, open_class, read_class
from game.practice_log.classes.class_schema import VERDICTS
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.read_export import read_export
from game.practice_log.transfer.export import write_export
from game.report.html import is_student_page_of
from game.report.page_names import page_name
from game.report.report_files import ClassPages, write_class
from game.text.catalogue import tell
from tests.practice_log.transfer.practised import told
from tests.refusing import refusal
from tests.report.month import write_month
from tests.sampling import how_many
from tests.speaking import speaking

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
ADA = Identity(uuid=UUID(int=1), name="Ada")
TODAY = date(2026, 6, 1)
BEN = Identity(uuid=UUID(int=2), name='=HYPERLINK("x")<b>')


def _exported(folder, player, name, *, seed):
    """An export of a month; returns what was written of it."""
    log = folder / f"{name}.log"
    written = write_month(log, player=player, seed=seed)
    with closing(sqlite3.connect(log)) as connection, connection:
        write_export(connection, player, folder / f"{name}.zip", now=NOW)
    return written


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """Two students whose exports are whole, and four files that are broken, each in another way."""
    folder = tmp_path_factory.mktemp("class")
    months = [_exported(folder, ADA, "a", seed=1), _exported(folder, BEN, "b", seed=2)]
    whole = (folder / "a.zip").read_bytes()
    (folder / "cut.zip").write_bytes(whole[: len(whole) // 2])
    with zipfile.ZipFile(folder / "other.zip", "w") as other:
        other.writestr("letter.txt", "hello")
    with zipfile.ZipFile(folder / "a.zip") as good, zipfile.ZipFile(folder / "rows.zip", "w") as bad:
        for name in good.namelist():
            text = good.read(name)
            bad.writestr(name, b'{"no": "entry"}\n' if name == "entries.jsonl" else text)
    with zipfile.ZipFile(folder / "a.zip") as good, zipfile.ZipFile(folder / "newer.zip", "w") as newer:
        told = json.loads(good.read("contents.json"))
        newer.writestr("contents.json", json.dumps({**told, "version": told["version"] + 1}))
    told = gather_class(folder, folder / "class.sqlite")
    return folder, months, _written(folder / "class.sqlite", folder / "out" / "index.html", faults=told.faults)


def _written(file, index, *, today=TODAY, **more):
    with read_class(file) as asked:
        return write_class(asked, ClassPages(index=index, today=today, accepts=lambda _: True), **more)


def test_each_student_has_a_page_and_all_stand_in_one_table(room):
    _, months, written = room
    assert {student.monday.name for student in written.students} == {ADA.name, BEN.name}
    index = written.index.read_text(encoding="utf-8")
    for player, (days, *_rest) in zip((ADA, BEN), months, strict=True):
        page = _of(written, player).files[0]
        assert page.name == page_name(player.uuid)
        assert page.is_file()
        assert f'href="{page.name}"' in index
        assert _of(written, player).sums.days == days
    assert index.count('<th scope="row">') == 2


def test_figures_of_an_export_are_those_of_the_log_it_was_made_of(room):
    """The first two takes of each of the bars are readings, as the month was written."""
    _, months, written = room
    for player, (_, *wanted) in zip((ADA, BEN), months, strict=True):
        (table,) = (path for path in _of(written, player).files if path.stem.endswith("-days"))
        days = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
        assert [sum(int(day[what]) for day in days) for what in ("takes", "read", "clean")] == wanted


def test_each_broken_export_is_named_in_one_sentence_and_the_rest_is_made(room):
    *_, written = room
    told = [tell(fault) for fault in written.faults]
    said = {fault.split()[0].rstrip(":"): fault for fault in told}
    assert set(said) == {"cut.zip", "other.zip", "rows.zip", "newer.zip"}
    assert "newer Homefret" in said["newer.zip"]
    assert "no export of Homefret" in said["other.zip"]
    index = written.index.read_text(encoding="utf-8")
    assert all(name in index for name in said)
    assert all("\n" not in fault for fault in told)


def test_a_hostile_name_is_text_on_the_page_and_no_formula_in_a_table(room):
    *_, written = room
    assert "<b>" not in written.index.read_text(encoding="utf-8")
    for student in written.students:
        for path in student.files[1:]:
            with path.open(encoding="utf-8-sig", newline="") as table:
                cells = [cell for row in csv.reader(table) for cell in row]
            assert cells
            assert not any(cell.startswith(("=", "@", "\t")) for cell in cells)


def test_played_notes_come_through_an_export_so_that_takes_can_be_played_back(room):
    folder, *_ = room
    connection, contents = read_export(folder / "b.zip")
    with closing(sqlite3.connect(folder / "b.log")) as log, log:
        assert log.execute("SELECT COUNT(*) > 0 FROM played").fetchone() == (1,)
        assert told(connection) == told(log)
    assert contents.player.uuid == BEN.uuid
    connection.close()


def test_an_export_takes_the_place_of_an_older_one_and_of_nothing_else(tmp_path):
    log = tmp_path / "practice.sqlite"
    write_month(log, player=ADA)
    (tmp_path / "holiday.zip").write_bytes(b"pictures")
    before = log.read_bytes()
    with closing(sqlite3.connect(log)) as connection, connection:
        for taken, why in ((log, "ending in .zip"), (tmp_path / "holiday.zip", "no export")):
            with refusal(LogError, why):
                write_export(connection, ADA, taken, now=NOW)
        for _ in range(2):
            write_export(connection, ADA, tmp_path / "ada.zip", now=NOW)
    assert log.read_bytes() == before
    assert (tmp_path / "holiday.zip").read_bytes() == b"pictures"


@pytest.fixture
def made(room, tmp_path):
    """The class once more, in a file and a folder of its own."""
    folder, *_ = room
    shutil.copy(folder / "class.sqlite", tmp_path / "class.sqlite")
    index = tmp_path / "pages" / "index.html"
    return tmp_path / "class.sqlite", index, _written(tmp_path / "class.sqlite", index)


def _of(written, player):
    (found,) = [student for student in written.students if student.monday.week.student == player.uuid]
    return found


def _names(index):
    return {path.name for path in index.parent.iterdir()}


def test_a_student_who_is_no_longer_there_loses_their_page_and_tables_and_nobody_else_does(made):
    file, index, written = made
    of_ada, of_ben = ({path.name for path in _of(written, one).files} for one in (ADA, BEN))
    assert _names(index) == of_ada | of_ben | {"index.html"}
    with open_class(file) as connection:
        forget_student(connection, ADA.uuid)
    _written(file, index)
    assert _names(index) == of_ben | {"index.html"}


CHANGED_ROWS = {
    "a note went wrong": ("UPDATE note SET verdict = ? WHERE student = ? AND n = 1", VERDICTS[Verdict.MISSED]),
    "a list calls Ada another name": ("UPDATE student SET named = ? WHERE student = ?", "Adele"),
}
CHANGED_FILES = {
    "a page is edited": lambda page: page.write_text(
        page.read_text(encoding="utf-8").replace("Ada", "Eva"), encoding="utf-8"
    ),
    "a page is cut off": lambda page: page.write_bytes(page.read_bytes()[:10_000]),
    "a page is deleted": lambda page: page.unlink(),
    "a table is deleted": lambda page: page.with_name(f"{page.stem}-notes.csv").unlink(),
}
ASKED_OTHERWISE = {
    "a week goes by": {"today": TODAY + timedelta(days=7)},
    "another language": {"language": "de"},
    "other names of notes": {"names": NoteNames.GERMAN},
    "initials": {"initials": True},
}
HAPPENINGS = (*CHANGED_ROWS, *CHANGED_FILES, *ASKED_OTHERWISE, "Ben is erased")


@pytest.mark.parametrize("seed", range(how_many(12, by_default=1)))
def test_whatever_happened_since_pages_are_those_that_are_made_from_nothing(made, tmp_path, seed):
    file, index, _ = made
    asked = {"today": TODAY, "language": "en"}
    for happening in Random(seed).sample(HAPPENINGS, len(HAPPENINGS)):
        asked |= ASKED_OTHERWISE.get(happening, {})
        if happening in CHANGED_FILES:
            CHANGED_FILES[happening](index.parent / page_name(ADA.uuid))
        with open_class(file) as connection:
            if happening in CHANGED_ROWS:
                statement, value = CHANGED_ROWS[happening]
                assert connection.execute(statement, (value, ADA.uuid.bytes)).rowcount > 0
            if happening == "Ben is erased":
                forget_student(connection, BEN.uuid)
        assert _pages(file, index, **asked) == _pages(file, tmp_path / happening / "index.html", **asked)


def _pages(file, index, *, language, **asked):
    """Write the pages; what all files there hold."""
    with speaking(language), read_class(file) as connection:
        write_class(connection, ClassPages(index=index, accepts=lambda _: True, **asked))
    return {path.name: path.read_bytes() for path in index.parent.iterdir()}


def test_files_that_only_look_like_pages_of_ours_and_those_of_another_class_stay(made):
    file, index, written = made
    page = _of(written, ADA).files[0]
    for name, text in (
        ("student-0123456789ab.html", "<title>my own</title>"),
        ("student-notes.html", page.read_text(encoding="utf-8")),
        (
            "student-ba9876543210.html",
            page.read_text(encoding="utf-8").replace("Homefret index.html", "Homefret friday.html"),
        ),
    ):
        (index.parent / name).write_text(text, encoding="utf-8")
    (index.parent / "student-00000000000f.html").symlink_to(page)
    before = _names(index)
    with open_class(file) as connection:
        forget_student(connection, BEN.uuid)
    _written(file, index)
    gone = before - _names(index)
    assert gone == {path.name for path in _of(written, BEN).files}
    assert is_student_page_of(page, "index.html")
    assert not is_student_page_of(index, "index.html")


def test_a_student_has_the_same_page_whoever_comes_and_goes(made):
    file, index, written = made
    with open_class(file) as connection:
        forget_student(connection, ADA.uuid)
    again = _written(file, index)
    assert _of(again, BEN).files == _of(written, BEN).files


def test_what_no_page_tells_is_put_together_where_it_is_asked_for_alone(made):
    file, index, written = made
    before = _names(index)
    assert [one.report for one in written.students] == [None, None]
    for statement, has_pages in (("SELECT 1", True), ("UPDATE marked_take SET content = 'nonsense'", False)):
        with open_class(file) as connection:
            connection.execute(statement)
        with read_class(file) as asked:
            told = write_class(asked, ClassPages(index=index, today=TODAY, accepts=lambda _: True, told=True))
        assert any(one.report.pencilled for one in told.students) == has_pages
        assert (len(told.students), told.faults) == (2, ())
        assert _names(index) == before


def test_rows_of_one_student_that_make_no_sense_are_named_and_the_others_have_their_pages(made):
    file, index, _ = made
    with open_class(file) as connection:
        connection.execute("UPDATE passage SET first_day = 'yesterday' WHERE student = ?", (ADA.uuid.bytes,))
    written = _written(file, index)
    assert [student.monday.name for student in written.students] == [BEN.name]
    (fault,) = map(tell, written.faults)
    assert "Ada" in fault
    assert fault in index.read_text(encoding="utf-8")


def test_pages_that_cannot_be_written_are_told_in_a_sentence(made):
    file, index, _ = made
    index.unlink()
    index.mkdir()
    with refusal(LogError, "index.html"):
        _written(file, index)


@pytest.mark.parametrize("player", [ADA, BEN], ids=["one", "the other"])
def test_a_page_of_a_student_that_cannot_be_written_is_told_whichever_of_them_it_is(made, player):
    file, index, written = made
    page = _of(written, player).files[0]
    page.unlink()
    page.mkdir()
    with refusal(LogError, page.name):
        _written(file, index)


@pytest.mark.parametrize("pages_with_room", [0, 1, 2])
def test_a_full_disk_leaves_the_pages_of_last_week_as_they_were(made, monkeypatch, pages_with_room):
    """The page of all comes first, then those of the students."""
    file, index, _ = made
    before = {path.name: path.read_bytes() for path in index.parent.iterdir()}
    pages = count()

    def full(_):
        if next(pages) >= pages_with_room:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr("game.paths.os.fsync", full)
    with refusal(LogError, "No space left on device"):
        _written(file, index)
    after = {path.name: path.read_bytes() for path in index.parent.iterdir()}
    if pages_with_room:
        assert after.pop(index.name).endswith(b"</html>"), "this week's, and whole"
        del before[index.name]
    assert after == before


def test_where_initials_stand_for_names_no_file_is_named_on_the_page(made):
    file, index, _ = made
    with read_class(file) as asked:
        pages = ClassPages(index=index, today=TODAY, accepts=lambda _: True, initials=True)
        written = write_class(asked, pages, [message("gather.empty_file", file="Bo Kahl.zip")])
    page = index.read_text(encoding="utf-8")
    assert "Kahl" not in page
    assert "may hold names" in page
    assert "Bo Kahl.zip" in tell(written.faults[0])
