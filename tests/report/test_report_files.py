"""A page for each student of a folder, one of all, and a sentence for each file that cannot be read."""

import csv
import json
import sqlite3
import zipfile
from datetime import UTC, datetime
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.read_export import read_export
from game.practice_log.transfer.export import write_export
from game.report.report_files import write_class
from game.text.catalogue import tell
from tests.practice_log.transfer.practised import told
from tests.refusing import refusal
from tests.report.month import write_month

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
ADA = Identity(uuid=UUID(int=1), name="Ada")
BEN = Identity(uuid=UUID(int=2), name='=HYPERLINK("x")<b>')


def _exported(folder, player, name, *, seed):
    """An export of a month; returns what was written of it."""
    log = folder / f"{name}.log"
    written = write_month(log, player=player, seed=seed)
    with sqlite3.connect(log) as connection:
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
    return folder, months, write_class(folder, folder / "out" / "index.html")


def test_each_student_has_a_page_and_all_stand_in_one_table(room):
    _, months, written = room
    assert [student.report.name for student in written.students] == [ADA.name, BEN.name]
    index = written.index.read_text(encoding="utf-8")
    for student, (days, *_rest) in zip(written.students, months, strict=True):
        assert student.files[0].is_file()
        assert f'href="{student.files[0].name}"' in index
        assert len(student.report.days) == days
    assert index.count('<th scope="row">') == 2


def test_figures_of_an_export_are_those_of_the_log_it_was_made_of(room):
    """The first two takes of each of the bars are readings, as the month was written."""
    _, months, written = room
    for student, (_, *wanted) in zip(written.students, months, strict=True):
        days = student.report.days
        assert [sum(day.takes for day in days), sum(day.read for day in days), sum(day.clean for day in days)] == wanted


def test_each_broken_export_is_named_in_one_sentence_and_the_rest_is_made(room):
    *_, written = room
    told = [tell(fault) for fault in written.faults]
    said = {fault.split()[0]: fault for fault in told}
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
    with sqlite3.connect(folder / "b.log") as log:
        assert log.execute("SELECT COUNT(*) > 0 FROM played").fetchone() == (1,)
        assert told(connection) == told(log)
    assert contents.player.uuid == BEN.uuid
    connection.close()


def test_an_export_takes_the_place_of_an_older_one_and_of_nothing_else(tmp_path):
    log = tmp_path / "practice.sqlite"
    write_month(log, player=ADA)
    (tmp_path / "holiday.zip").write_bytes(b"pictures")
    before = log.read_bytes()
    with sqlite3.connect(log) as connection:
        for taken, why in ((log, "ending in .zip"), (tmp_path / "holiday.zip", "no export")):
            with refusal(LogError, why):
                write_export(connection, ADA, taken, now=NOW)
        for _ in range(2):
            write_export(connection, ADA, tmp_path / "ada.zip", now=NOW)
    assert log.read_bytes() == before
    assert (tmp_path / "holiday.zip").read_bytes() == b"pictures"


def test_a_folder_that_is_none_is_refused(tmp_path):
    with refusal(LogError, "there is no folder"):
        write_class(tmp_path / "nowhere", tmp_path / "index.html")
