"""Whose the files in a folder are, before somebody is erased."""

import shutil

import pytest

from game.errors import LogError
from game.practice_log.classes import file_owner
from game.practice_log.classes import students_in_folder as module
from game.practice_log.classes.students_in_folder import StudentFiles, joined, students_in_folder
from game.practice_log.database.identity import Identity
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.rows.entry_rows import About
from tests.practice_log.classes.students import ADA, BEN, CEM, hand_in, student
from tests.practice_log.classes.two_in_a_log import two_in_a_log
from tests.refusing import refusal

NOWHERE = "nowhere.sqlite"


@pytest.fixture(autouse=True)
def _without_a_child(monkeypatch):
    for one in (file_owner, module):
        monkeypatch.setattr(one, "limited_lines", lambda path, _: documents_of_file(path))


def by_ids(found):
    return {one.ids: one for one in found.students}


def test_each_player_is_told_with_all_their_files_wherever_they_lie(tmp_path):
    hand_in(student(ADA, 1, steps=2), tmp_path / "a.zip")
    hand_in(student(ADA, 2, steps=2), tmp_path / "deep" / "b.zip")
    hand_in(student(BEN, 3, steps=2), tmp_path / "ben.zip")
    (tmp_path / "notes.txt").write_text("none of ours")
    (tmp_path / "noise.zip").write_bytes(b"PK nothing")
    found = students_in_folder(tmp_path, tmp_path / NOWHERE)
    told = by_ids(found)
    assert told[frozenset({ADA.uuid})].own == (tmp_path / "a.zip", tmp_path / "deep" / "b.zip")
    assert told[frozenset({BEN.uuid})].names == {"Ben"}
    assert found.unknown == (tmp_path / "noise.zip",)


def test_who_is_known_by_two_ids_is_one(tmp_path):
    elsewhere = Identity(uuid=CEM.uuid, name="Ada at school")
    computer = student(ADA, 1, steps=2)
    computer.say(About.SAME_PLAYER, player=str(CEM.uuid))
    hand_in(computer, tmp_path / "a.zip")
    hand_in(student(elsewhere, 2, steps=2), tmp_path / "c.zip")
    (one,) = students_in_folder(tmp_path, tmp_path / NOWHERE).students
    assert (one.ids, one.names) == ({ADA.uuid, CEM.uuid}, {"Ada", "Ada at school"})
    # By the last one all ids are found as long as anything is there.
    assert one.own == (tmp_path / "c.zip", tmp_path / "a.zip")


def test_of_a_log_into_which_two_played_each_is_told_for_themselves(tmp_path):
    two_in_a_log(tmp_path / "both.sqlite", ADA, BEN)
    told = by_ids(students_in_folder(tmp_path, tmp_path / NOWHERE))
    assert told.keys() == {frozenset({ADA.uuid}), frozenset({BEN.uuid})}
    assert all(one.shared == (tmp_path / "both.sqlite",) and one.own == () for one in told.values())


def test_a_copy_under_another_name_is_theirs_as_well(tmp_path):
    hand_in(student(ADA, 1, steps=2), tmp_path / "a.zip")
    shutil.copy(tmp_path / "a.zip", tmp_path / "a (1).ZIP")
    (one,) = students_in_folder(tmp_path, tmp_path / NOWHERE).students
    assert len(one.own) == 2


def test_links_between_players_are_found_in_whatever_order_they_are_told():
    told = [StudentFiles(frozenset(ids), frozenset({ids[0]})) for ids in ("ab", "cd", "bc", "xy")]
    for order in (told, told[::-1], [told[1], told[3], told[0], told[2]]):
        assert {one.ids for one in joined(order)} == {frozenset("abcd"), frozenset("xy")}


def test_no_folder_is_told(tmp_path):
    with refusal(LogError, "gone"):
        students_in_folder(tmp_path / "gone", tmp_path / NOWHERE)
