"""A list in CSV, in whatever way a spreadsheet writes it, says how students are called."""

import sqlite3
from contextlib import closing
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.classes import file_owner, student_log
from game.practice_log.classes.class_list import name_students, read_class_list
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.text.catalogue import tell
from tests.practice_log.classes.students import ADA, BEN, CEM, hand_in, student
from tests.refusing import refusal

WAYS = {
    "plain": ("id,name\n{ada},Ada Löw\nben.zip,Ben\n", "utf-8"),
    "with its mark": ("id,name\n{ada},Ada Löw\nben.zip,Ben\n", "utf-8-sig"),
    "semicolons of a German spreadsheet": ('"Kennung";"Name"\r\n"{ada}";"Ada Löw"\r\n"ben.zip";"Ben"\r\n', "utf-8-sig"),
    "tabs in UTF-16": ("id\tname\r\n{ada}\tAda Löw\r\nben.zip\tBen\r\n", "utf-16"),
    "Windows letters": ("id;name\r\n{ada};Ada Löw\r\nben.zip;Ben\r\n", "cp1252"),
    "no headings, more columns, empty lines": ("{ada},Ada Löw,3b\n,,\n\nBEN.zip,Ben,3b\n", "utf-8"),
    "the divider told first": ("sep=;\r\nKennung;Name\r\n{ada};Ada Löw\r\nben.zip;Ben\r\n", "cp1252"),
    "an empty line first": ("\r\n;;\r\nDatei;Name\r\n{ada};Ada Löw\r\nben.zip;Ben\r\n", "utf-8"),
    "columns in another order": ("Class;Name;File\r\n3b;Ada Löw;{ada}\r\n3b;Ben;Ben.zip\r\n", "utf-8"),
    "letters with their dots apart": ("file,name\n{ada},Ada Lo\u0308w\nBen,Ben\n", "utf-8"),
    "the same line twice": ("file,name\n{ada},Ada Löw\nBen,Ben\nBEN,Ben\n{ada},Ada Löw\n", "utf-8"),
    "a line broken within a cell, empty columns behind": (
        'file;name;;;\r\n{ada};"Ada\r\nLöw";;;\r\nBen;Ben;;;\r\n',
        "utf-8-sig",
    ),
    "braces and large letters": ("file,name\n{{{ada}}},Ada Löw\nBen,Ben\n", "utf-8"),
}


@pytest.mark.parametrize("way", WAYS)
def test_a_list_is_read_however_a_spreadsheet_writes_it(tmp_path, way):
    text, encoding = WAYS[way]
    path = tmp_path / "class.csv"
    path.write_bytes(text.format(ada=str(ADA.uuid).upper()).encode(encoding))
    names = read_class_list(path)
    assert names.by_id == {ADA.uuid: "Ada Löw"}
    assert [name.removesuffix(".zip") for name in names.by_file] == ["ben"]
    assert list(names.by_file.values()) == ["Ben"]
    assert names.faults == ()


def test_lines_without_a_name_are_told_by_their_number_and_the_others_stand(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"id,name\n{ADA.uuid},\nben.zip\n{BEN.uuid},Ben\n", encoding="utf-8")
    names = read_class_list(path)
    assert names.by_id == {BEN.uuid: "Ben"}
    assert [("line 2" in tell(one), "line 3" in tell(one)) for one in names.faults] == [(True, False), (False, True)]


def test_of_two_names_for_one_the_second_stands_and_both_are_told(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"id,name\n{ADA.uuid},Ada\nben.zip,Ben\n{ADA.uuid},Adele\n", encoding="utf-8")
    names = read_class_list(path)
    assert names.by_id == {ADA.uuid: "Adele"}
    (fault,) = names.faults
    assert all(told in tell(fault) for told in ("line 4", "Ada ", "Adele"))


def test_a_quote_that_is_not_closed_is_told_by_the_line_where_it_begins(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f'sep=,\nid,name\n{ADA.uuid},Ada\nben.zip,"Ben Kahl\ncem.zip,Cem\n', encoding="utf-8")
    names = read_class_list(path)
    assert (names.by_id, names.by_file) == ({ADA.uuid: "Ada"}, {})
    assert ["line 4" in tell(one) for one in names.faults] == [True]


@pytest.mark.parametrize(
    "begin", [b"PK\x03\x04\x14\x00\x06\x00", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1\x00", b"%PDF-1.7\n\x00"]
)
def test_a_sheet_that_was_not_saved_as_text_is_refused_in_one_sentence(tmp_path, begin):
    (tmp_path / "class.csv").write_bytes(begin + b"\n".join([b"ada"] * 9))
    with refusal(LogError, r"class\.csv .* CSV"):
        read_class_list(tmp_path / "class.csv")


def test_what_is_no_list_is_refused_in_a_sentence(tmp_path):
    with refusal(LogError, "class.csv"):
        read_class_list(tmp_path / "class.csv")
    (tmp_path / "class.csv").write_text("a,b\n" * 20_000, encoding="utf-8")
    with refusal(LogError, "class.csv"):
        read_class_list(tmp_path / "class.csv")
    (tmp_path / "class.csv").write_bytes(b'"' + b"x" * 500_000)
    with refusal(LogError, "class.csv"):
        read_class_list(tmp_path / "class.csv")


@pytest.fixture
def room(tmp_path, monkeypatch):
    """The file of a class of three."""
    for module in (file_owner, student_log):
        monkeypatch.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))
    for number, player in enumerate((ADA, BEN, CEM), start=1):
        hand_in(student(player, number, steps=3), tmp_path / "class" / f"{player.name}.zip")
    gather_class(tmp_path / "class", tmp_path / "class.sqlite")
    with closing(sqlite3.connect(tmp_path / "class.sqlite", isolation_level=None)) as connection:
        yield connection


def named(connection):
    rows = connection.execute("SELECT student, name, named FROM student").fetchall()
    return {UUID(bytes=one): told or own for one, own, told in rows}


def test_students_are_called_as_the_list_says_and_by_their_own_names_without_it(room, tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"{ADA.uuid},A. L.\nben.zip,B. K.\n{UUID(int=7)},Nobody\n", encoding="utf-8")
    missing = name_students(room, read_class_list(path))
    assert named(room) == {ADA.uuid: "A. L.", BEN.uuid: "B. K.", CEM.uuid: "Cem"}
    assert ["Nobody" in tell(one) for one in missing] == [True]
    path.write_text(f"{CEM.uuid},C. M.\n", encoding="utf-8")
    assert name_students(room, read_class_list(path)) == ()
    assert named(room) == {ADA.uuid: "Ada", BEN.uuid: "Ben", CEM.uuid: "C. M."}


def test_a_list_names_a_file_whichever_system_wrote_its_umlauts(room, tmp_path):
    room.execute("UPDATE delivery SET path = 'Bjo\u0308rn.zip' WHERE path = 'Ben.zip'")
    path = tmp_path / "class.csv"
    path.write_text("file,name\nBj\u00f6rn.zip,B. K.\nTotal,3\n", encoding="utf-8")
    (missing,) = name_students(room, read_class_list(path))
    assert named(room)[BEN.uuid] == "B. K."
    assert "3 (total)" in tell(missing)


WAYS_OF_INITIALS = {
    "a column of its own": "id,name,initials\n{ada},Ada Löw,x\nben.zip,Ben Kahl,\ncem.zip,Cem Dal,no\n",
    "German, further right": "Id;Name;Klasse;Initialen\n{ada};Ada Löw;3b;ja\nben.zip;Ben Kahl;3b;\ncem.zip;Cem Dal\n",
    "without headings": "{ada},Ada Löw,initials\nben.zip,Ben Kahl,3b\ncem.zip,Cem Dal\n",
}


@pytest.mark.parametrize("way", WAYS_OF_INITIALS)
def test_whoever_has_a_cross_in_the_column_stands_by_their_initials(room, tmp_path, way):
    path = tmp_path / "class.csv"
    path.write_text(WAYS_OF_INITIALS[way].format(ada=ADA.uuid), encoding="utf-8")
    names = read_class_list(path)
    assert names.faults == ()
    assert name_students(room, names) == ()
    assert named(room) == {ADA.uuid: "A. L.", BEN.uuid: "Ben Kahl", CEM.uuid: "Cem Dal"}


def test_two_of_the_same_initials_are_told_apart_and_own_names_become_initials_too(room, tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"id,name,initials\n{ADA.uuid},Ada Löw,1\nben.zip,Arno Lenz,1\ncem.zip,,1\n", encoding="utf-8")
    names = read_class_list(path)
    assert names.faults == ()
    assert name_students(room, names) == ()
    told = named(room)
    assert told[ADA.uuid] == f"A. L. ({ADA.uuid.hex[-2:]})"
    assert told[BEN.uuid] == f"A. L. ({BEN.uuid.hex[-2:]})"
    (own,) = room.execute("SELECT name FROM student WHERE student = ?", (CEM.uuid.bytes,)).fetchone()
    assert told[CEM.uuid] == f"{own[0]}."


def test_where_nobody_can_tell_what_a_cell_says_the_name_stays_hidden_and_the_line_is_told(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"id,name,initials\n{ADA.uuid},Ada Löw,perhaps\n", encoding="utf-8")
    names = read_class_list(path)
    assert names.initials == {ADA.uuid}
    (fault,) = names.faults
    assert "line 2" in tell(fault)


def test_a_class_called_3b_or_a_name_in_a_further_column_asks_for_no_initials(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"id,name,class\n{ADA.uuid},Ada Löw,x\n", encoding="utf-8")
    assert read_class_list(path).initials == frozenset()


def test_of_whoever_is_to_stand_by_initials_and_is_not_there_the_line_is_told_alone(room, tmp_path):
    path = tmp_path / "class.csv"
    path.write_text("file,name,initials\nben.zip,Ben,\ndora.zip,Dora Kern,x\n", encoding="utf-8")
    (missing,) = name_students(room, read_class_list(path))
    assert "class.csv, line 3" in tell(missing)
    assert "dora" not in tell(missing).casefold()


def test_of_an_id_that_was_erased_nothing_is_said(room, tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"{UUID(int=7)},Dora\n{UUID(int=8)},Emil\n", encoding="utf-8")
    (missing,) = name_students(room, read_class_list(path), lambda uuid: uuid == UUID(int=7))
    assert "Emil" in tell(missing)


def test_a_list_is_read_again_without_writing_into_a_class_that_is_called_so(room, tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"{ADA.uuid},A. L.\n", encoding="utf-8")
    name_students(room, read_class_list(path))
    written = room.total_changes
    name_students(room, read_class_list(path))
    assert room.total_changes == written


def test_a_list_tells_whether_it_names_somebody_by_id_file_or_name(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(f"{ADA.uuid},Ada Lo\nben.zip,Ben\ncem,,x\n", encoding="utf-8")
    names = read_class_list(path)
    assert names.names_one_of({ADA.uuid}, [], [])
    assert names.names_one_of([], ["deep/Ben.zip"], [])
    assert names.names_one_of([], [], ["Ada Lo"])
    assert not names.names_one_of({CEM.uuid}, ["dora.zip"], ["Cem", ""])
