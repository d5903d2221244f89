"""What lies beside the files of a class is set for whoever it was meant for, and overdue where they never opened it."""

import os
import sqlite3
from contextlib import closing
from datetime import date

import pytest

from game.commands.class_source import gathered_folder
from game.player.assignment_facts import digest_of, opened_content
from game.player.set_for_class import never_opened, set_in_folder
from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.need import Need
from game.practice_log.classes.never_opened import OpenedText, StudentOfFolder
from game.practice_log.rows.entry_rows import About
from tests.player.test_player_assignments import LINES, WEEK
from tests.practice_log.classes.students import ADA, BEN, hand_in, student

TODAY = date(2026, 11, 30)
MAP = "[map]\nposition = 5\n"


def somebody(*opened, paths=("homefret/x/ada.zip",), ids=(ADA.uuid,), first_day=""):
    return StudentOfFolder(student=ids[0], paths=paths, ids=ids, opened=opened, first_day=first_day)


def put(folder, **texts):
    """Files by their paths, `__` for a slash."""
    for name, text in texts.items():
        path = folder.joinpath(*f"{name}.toml".split("__"))
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def left(folder, one, today=TODAY):
    there, faults = set_in_folder(folder)
    assert faults == ()
    return [part.set_in for part in never_opened(one, there, today)]


@pytest.mark.parametrize(
    ("place", "is_meant"),
    [
        ("week", True),
        ("assignments__week", True),
        ("homefret__assignments__week", True),
        (f"homefret__{ADA.uuid}__assignments__week", True),
        (f"elsewhere__{ADA.uuid}__assignments__week", True),
        (f"homefret__{BEN.uuid}__assignments__week", False),
        ("other_class__assignments__week", False),
        ("home__week", False),
    ],
)
def test_it_is_for_whoever_has_files_where_it_lies(tmp_path, place, is_meant):
    put(tmp_path, **{place: WEEK})
    assert left(tmp_path, somebody()) == (["The week", "The week"] if is_meant else [])


def test_what_was_opened_in_this_form_or_an_older_one_is_told_by_the_log(tmp_path):
    put(tmp_path, week=WEEK, copy=WEEK)
    assert left(tmp_path, somebody(OpenedText(digest_of(WEEK), "Other", ""))) == []
    # The file was corrected before it was due.
    assert left(tmp_path, somebody(OpenedText("f" * 64, "THE WEEK", "2026-11-27"))) == []
    # The same title, every week.
    assert left(tmp_path, somebody(OpenedText("f" * 64, "The week", "2026-11-19"))) == ["The week", "The week"]


def test_what_was_due_before_somebody_came_was_set_for_others(tmp_path):
    put(tmp_path, week=WEEK, lines=LINES)
    assert left(tmp_path, somebody(first_day="2026-11-27")) == ["Lines"]
    assert left(tmp_path, somebody(first_day="2026-11-26")) == ["Lines", "The week", "The week"]


def test_maps_are_passed_over_and_what_cannot_be_read_is_one_sentence_each(tmp_path):
    put(tmp_path, map=MAP, week=WEEK, bad="title = ", worse="[[tune]]\nlevel = 3\n")
    (tmp_path / "letters.toml").write_bytes(b"\x81\xff title")
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / ".hidden.toml").write_text("no", encoding="utf-8")
    (tmp_path / "link.toml").symlink_to("/etc/hostname")
    os.mkfifo(tmp_path / "pipe.toml")
    there, faults = set_in_folder(tmp_path)
    assert [one.assignment.title for one in there] == ["The week"]
    assert len(faults) == 4


def test_who_never_opened_it_is_overdue_though_no_file_of_theirs_changed(tmp_path):
    folder, file, week = tmp_path / "class", tmp_path / "class.sqlite", WEEK.replace("11-26", "11-28")
    ada, ben = student(ADA, 1), student(BEN, 2)
    ben.say(About.ASSIGNMENT, **opened_content(week, title="The week", due="2026-11-28", day=date(2026, 11, 25)))
    hand_in(ada, folder / "ada.zip")
    hand_in(ben, folder / "ben.zip")

    def told():
        _, gathered = gathered_folder(folder, file)
        with closing(sqlite3.connect(file)) as connection:
            weeks = class_week(connection, date(2026, 11, 29))
        return gathered, {one.name: (one.need, [part.opened for part in one.parts]) for one in weeks}

    opened = [date(2026, 11, 25)] * 2
    assert told()[1] == {"Ada": (Need.FINE, []), "Ben": (Need.OVERDUE, opened)}
    put(folder, week=week, broken="[")
    gathered, now = told()
    assert (gathered.changed, len(gathered.faults)) == (0, 1)
    assert now == {"Ada": (Need.OVERDUE, [None, None]), "Ben": (Need.OVERDUE, opened)}
    (folder / "week.toml").unlink()
    assert told()[1]["Ada"] == (Need.FINE, [])
