"""Nothing of a student who was taken out of a class is found in the bytes of its file."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from game.errors import LogError
from game.practice_log.classes import erased_student, file_owner, student_log
from game.practice_log.classes.erased_student import erase_from_class, students_in_class
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.rows.entry_rows import About
from tests.practice_log.classes.students import ADA, BEN, CEM, counts, hand_in, student
from tests.refusing import refusal

ZOE = Identity(uuid=ADA.uuid, name="Zoë Quist")


@pytest.fixture(scope="module")
def gathered(tmp_path_factory):
    """The file of a class of two, one of whom has names and titles that nobody else has."""
    tmp_path = tmp_path_factory.mktemp("class")
    computer = student(ZOE, 1, steps=12)
    computer.say(About.SAME_PLAYER, player=str(CEM.uuid))
    computer.say(About.ASSIGNMENT, text="for Zoe alone", digest="f" * 64, title="Quist's week", due="")
    hand_in(computer, tmp_path / "class" / "Zoë Quist.zip")
    (tmp_path / "class" / "Quist broken.zip").write_bytes(b"PK broken")
    hand_in(student(BEN, 2, steps=12), tmp_path / "class" / "ben.zip")
    with pytest.MonkeyPatch.context() as patched:
        for module in (file_owner, student_log):
            patched.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))
        gather_class(tmp_path / "class", tmp_path / "class.sqlite")
    return tmp_path / "class.sqlite"


@pytest.fixture
def room(gathered, tmp_path):
    return shutil.copy(gathered, tmp_path / "class.sqlite")


NEEDLES = (ADA.uuid.bytes, CEM.uuid.bytes, "Zoë".encode(), b"Quist", b"for Zoe alone", str(ADA.uuid).encode())


def found_in(folder):
    held = b"".join(path.read_bytes() for path in folder.iterdir() if path.is_file())
    return [needle for needle in NEEDLES if needle in held]


def test_students_are_told_by_all_ids_and_names(room):
    told = {one.ids: one.names for one in students_in_class(room)}
    assert told == {frozenset({ADA.uuid, CEM.uuid}): {"Zoë Quist"}, frozenset({BEN.uuid}): {"Ben"}}


def test_nothing_of_them_is_found_in_the_file_and_of_others_all_is(room, tmp_path):
    with closing(sqlite3.connect(room)) as connection:
        before = {table: counts(connection, table).get(BEN.uuid) for table in ("take", "note", "day", "bars")}
    assert len(found_in(tmp_path)) == len(NEEDLES)
    assert erase_from_class(room, {ADA.uuid}) == {ADA.uuid}
    assert found_in(tmp_path) == []
    with closing(sqlite3.connect(room)) as connection:
        assert {table: counts(connection, table).get(BEN.uuid) for table in before} == before
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_by_their_second_id_it_is_the_same(room, tmp_path):
    assert erase_from_class(room, {CEM.uuid}) == {ADA.uuid}
    assert found_in(tmp_path) == []


def test_where_the_disk_has_no_room_to_write_the_file_anew_the_rows_are_gone_all_the_same(room, tmp_path, monkeypatch):
    class Full(sqlite3.Connection):
        def execute(self, statement, *values):
            if statement == "VACUUM":
                raise sqlite3.OperationalError("database or disk is full")
            return super().execute(statement, *values)

    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *args, **how: connect(*args, factory=Full, **how))
    erase_from_class(room, {ADA.uuid})
    monkeypatch.undo()
    assert found_in(tmp_path) == []


def test_while_somebody_writes_it_nothing_is_changed_and_it_is_told(room, monkeypatch):
    monkeypatch.setattr("game.practice_log.classes.class_file._BUSY_S", 0.0)
    with closing(sqlite3.connect(room, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with refusal(LogError, "class.sqlite"):
            erase_from_class(room, {ADA.uuid})
        other.execute("ROLLBACK")
    assert len(students_in_class(room)) == 2
    assert erase_from_class(room, {ADA.uuid})


def test_who_is_not_in_it_changes_nothing(room):
    assert erase_from_class(room, {erased_student.UUID(int=5)}) == frozenset()
    assert len(students_in_class(room)) == 2
