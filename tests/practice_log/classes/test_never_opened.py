"""What was set and never opened stands beside what was, and only what is another is written."""

import re

import pytest

from game.practice_log.classes import never_opened
from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_writing import SetPart
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.classes.never_opened import OpenedText, put_never_opened, students_of_folder
from game.practice_log.rows.entry_rows import About
from tests.practice_log.classes.students import ADA, BEN, hand_in, student
from tests.practice_log.classes.test_class_queries import ONLY_SQLITE

OPENED = SetPart("a", 0, "time", "The Ford", opened_day="2026-11-02")
NEVER = SetPart("b", 0, "time", "The Hill")


@pytest.fixture
def room(tmp_path):
    ada = student(ADA, 1, steps=3)
    for number in ("1", "2"):
        ada.minutes += 5
        ada.say(About.ASSIGNMENT, digest=number * 64, title="Week", due=f"2026-12-0{number}", text=number)
    hand_in(ada, tmp_path / "room" / "homefret" / "ada.zip")
    ben = student(BEN, 2, steps=0)
    ben.say()
    hand_in(ben, tmp_path / "room" / "ben.zip")
    gather_class(tmp_path / "room", tmp_path / "class.sqlite", parts_of=lambda *_: [OPENED])
    with open_class(tmp_path / "class.sqlite") as connection:
        yield connection


def _kept(connection):
    return sorted(connection.execute("SELECT student, digest FROM set_part").fetchall())


def test_students_are_told_by_their_files_ids_days_and_what_they_opened(room):
    by_id = {one.student: one for one in students_of_folder(room)}
    ada, ben = by_id[ADA.uuid], by_id[BEN.uuid]
    assert (ada.paths, ada.ids) == (("homefret/ada.zip",), (ADA.uuid,))
    assert ada.opened == (OpenedText("1" * 64, "Week", "2026-12-01"), OpenedText("2" * 64, "Week", "2026-12-02"))
    assert ada.first_day > "2026"
    assert (ben.first_day, ben.opened) == ("", ())


def test_it_is_put_beside_what_was_opened_and_taken_out_when_it_is_set_no_more(room):
    both = [(ADA.uuid.bytes, "a"), (BEN.uuid.bytes, "a")]
    put_never_opened(room, {ADA.uuid: [NEVER], BEN.uuid: []})
    assert _kept(room) == sorted([*both, (ADA.uuid.bytes, "b")])
    before = room.total_changes
    put_never_opened(room, {ADA.uuid: [NEVER], BEN.uuid: []})
    assert room.total_changes == before
    put_never_opened(room, {ADA.uuid: [], BEN.uuid: [NEVER]})
    assert _kept(room) == sorted([*both, (BEN.uuid.bytes, "b")])


def test_statements_are_written_as_both_databases_have_them():
    statements = [text for text in vars(never_opened).values() if isinstance(text, str) and text.startswith("SELECT")]
    assert len(statements) >= 5
    assert [text for text in statements if ONLY_SQLITE.search(text)] == []
    assert re.search(ONLY_SQLITE, "SELECT strftime('%d')")
