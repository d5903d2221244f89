"""A class can be asked as a folder, gathered into the file that is this folder's own, and as a file of before."""

import sqlite3
from contextlib import closing
from datetime import timedelta

import pytest

from game.commands import class_source
from game.commands.class_source import keep_from_now_on, opened_class
from game.errors import LogError
from game.player.class_place import class_place
from game.practice_log.classes.class_schema import CLASS_VERSION
from game.practice_log.database.store import open_store
from game.text.catalogue import tell
from tests.practice_log.classes.students import ADA, BEN, hand_in, student
from tests.practice_log.logged_takes import MORNING
from tests.refusing import refusal


@pytest.fixture
def folder(tmp_path):
    hand_in(student(ADA, 1), tmp_path / "class" / "ada.zip")
    hand_in(student(BEN, 2), tmp_path / "class" / "ben.zip")
    return tmp_path / "class"


def _names(source, **more):
    with opened_class(str(source), **more) as opened:
        rows = opened.asked.execute("SELECT name, named FROM student", {}).fetchall()
        return sorted(named or name for name, named in rows), opened


def test_a_folder_is_gathered_out_of_the_way_and_its_file_can_be_asked_without_the_folder(folder):
    names, opened = _names(folder)
    assert names == [ADA.name, BEN.name]
    assert opened.gathered.changed == 2
    assert {path.name for path in folder.iterdir()} == {"ada.zip", "ben.zip"}
    for path in folder.iterdir():
        path.unlink()
    again, opened = _names(class_place(folder))
    assert again == names
    assert opened.gathered is None


def test_a_list_names_students_of_a_folder_and_of_a_file_and_its_faults_are_told(folder, tmp_path):
    (tmp_path / "list.csv").write_text("id,name\nada.zip,Countess\nnobody.zip,Nobody\n", encoding="utf-8")
    for source in (folder, class_place(folder)):
        names, opened = _names(source, names=tmp_path / "list.csv")
        assert names == [BEN.name, "Countess"]
        assert [fault.key for fault in opened.faults] == ["class.list_nobody"]
    assert _names(folder)[0] == [BEN.name, "Countess"]


@pytest.fixture
def listed(folder, tmp_path):
    """The list by which the class was gathered: Ada by her initials."""
    names = tmp_path / "list.csv"
    names.write_text("file,name,initials\nada.zip,Ada Lo,x\nben.zip,Benjamin,\n", encoding="utf-8")
    assert _names(folder, names=names)[0] == ["A. L.", "Benjamin"]
    return names


@pytest.mark.usefixtures("listed")
def test_the_list_given_last_names_whoever_was_away_for_a_while(folder, tmp_path):
    (folder / "ada.zip").rename(tmp_path / "ada.zip")
    names, opened = _names(folder)
    assert names == ["Benjamin"]
    assert not any("Ada Lo" in tell(fault) for fault in opened.faults)
    (tmp_path / "ada.zip").rename(folder / "ada.zip")
    assert _names(folder)[0] == ["A. L.", "Benjamin"]


def test_a_list_that_was_changed_since_counts_as_it_is_now_for_a_folder_and_for_its_file(folder, listed):
    listed.write_text("file,name\nben.zip,Benny\n", encoding="utf-8")
    assert _names(class_place(folder))[0] == [ADA.name, "Benny"]
    listed.write_text("file,name\nben.zip,Benno\n", encoding="utf-8")
    assert _names(folder)[0] == [ADA.name, "Benno"]


@pytest.mark.parametrize("now", [None, b"PK\x03\x04\x00 a sheet"])
def test_a_list_that_is_away_or_no_list_any_more_is_told_once_and_names_stay(folder, listed, now):
    listed.unlink() if now is None else listed.write_bytes(now)
    for source in (folder, class_place(folder)):
        names, opened = _names(source)
        assert names == ["A. L.", "Benjamin"]
        (fault,) = opened.faults
        assert "the list given last is not read" in tell(fault)
        assert listed.name in tell(fault)


def test_an_empty_list_ends_that_a_class_is_named_by_one(folder, listed):
    listed.write_text("id,name\n", encoding="utf-8")
    assert _names(folder, names=listed)[0] == [ADA.name, BEN.name]
    listed.unlink()
    assert _names(folder)[1].faults == ()


def test_a_file_that_is_no_class_or_of_another_version_is_left_as_it_is(folder, tmp_path):
    log = tmp_path / "practice.sqlite"
    open_store(log, now_utc=MORNING).close()
    _names(folder, into=str(tmp_path / "class.sqlite"))
    for version, said in ((CLASS_VERSION + 1, "newer Homefret"), (CLASS_VERSION - 1, "older Homefret")):
        with closing(sqlite3.connect(tmp_path / "class.sqlite")) as connection, connection:
            connection.execute(f"PRAGMA user_version = {version}")
        before = (tmp_path / "class.sqlite").read_bytes()
        with refusal(LogError, said):
            _names(tmp_path / "class.sqlite")
        assert (tmp_path / "class.sqlite").read_bytes() == before
    with refusal(LogError, "practice.sqlite"):
        _names(log)


def test_a_drive_that_was_pulled_out_and_a_single_export_are_told_and_the_class_is_whole_again_after(folder):
    names, _ = _names(folder)
    folder.rename(folder.with_name("away"))
    folder.mkdir()
    for _ in range(2):
        with refusal(LogError, "holds no export"):
            _names(folder)
    folder.rmdir()
    folder.with_name("away").rename(folder)
    assert _names(folder)[0] == names
    with refusal(LogError, "a single export: name the folder"):
        _names(folder / "ada.zip")


def test_a_folder_that_is_none_and_one_without_any_export_are_told(tmp_path):
    with refusal(LogError, "there is no folder"):
        _names(tmp_path / "nowhere")
    (tmp_path / "empty").mkdir()
    with refusal(LogError, "holds no export"):
        _names(tmp_path / "empty")


def takes_in(folder):
    with opened_class(str(folder)) as opened:
        count = opened.asked.execute("SELECT COUNT(*) FROM take", {}).fetchone()[0]
        return count, [fault.key for fault in opened.faults]


def test_what_is_kept_for_some_months_is_so_whenever_the_folder_is_gathered_until_it_is_kept_for_ever(
    folder, monkeypatch
):
    whole, _ = takes_in(folder)
    monkeypatch.setattr(class_source, "wall_time", lambda: MORNING + timedelta(days=3 * 366))
    keep_from_now_on(folder, None, 24)
    assert takes_in(folder) == (0, ["gather.kept_since", "gather.nothing_newer"])
    assert takes_in(folder) == (0, ["gather.kept_since", "gather.nothing_newer"])
    assert len(list(folder.iterdir())) == 2
    keep_from_now_on(folder, None, 48)
    assert takes_in(folder) == (whole, ["gather.kept_since"])
    keep_from_now_on(folder, None, 0)
    assert takes_in(folder) == (whole, [])


@pytest.mark.parametrize("months", [-1, 1, 601])
def test_months_that_a_class_could_not_be_asked_about_are_refused(folder, months):
    with refusal(LogError, f"--keep-months is {months}: give 2 to 600 months, or 0 for ever"):
        keep_from_now_on(folder, None, months)
    with refusal(LogError, "nowhere"):
        keep_from_now_on(folder / "nowhere", None, 12)
