"""What is too old is gone from a gathered class, and no figure of what is newer is another than before."""

import shutil
import sqlite3
from contextlib import closing
from datetime import date, timedelta

import pytest

from game.practice_log.classes import file_owner, student_log
from game.practice_log.classes.class_figures import ClassFigures
from game.practice_log.classes.class_file import read_class
from game.practice_log.classes.class_queries import PASSAGES, class_week
from game.practice_log.classes.forgotten_by_age import day_before, forget_older, read_all_again
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.foreign.documents_of_file import documents_of_file
from tests.practice_log.classes.old_practice import PLACES, SINCE, TODAY, ada, hand_in_all
from tests.practice_log.classes.students import ADA, BEN, CEM, counts, hand_in, held
from tests.practice_log.transfer.practised import TUNES


@pytest.fixture(scope="module")
def handed_in(tmp_path_factory):
    folder = tmp_path_factory.mktemp("by age")
    hand_in_all(folder / "class")
    with pytest.MonkeyPatch.context() as patched:
        without_children(patched)
        gather_class(folder / "class", folder / "class.sqlite")
    return folder


def without_children(patched):
    for module in (file_owner, student_log):
        patched.setattr(module, "limited_lines", lambda path, _: documents_of_file(path))


@pytest.fixture
def room(handed_in, tmp_path, monkeypatch):
    without_children(monkeypatch)
    shutil.copytree(handed_in, tmp_path, dirs_exist_ok=True)
    return tmp_path / "class.sqlite"


def figures(room):
    """All that a class is asked, but for sums over all days."""
    with read_class(room) as connection:
        students = {}
        for one in (ADA, BEN):
            asked = ClassFigures(connection, one.uuid)
            students[one.name] = (
                asked.passages(),
                asked.notes(TODAY, 28),
                asked.went_wrong(TODAY, 28),
                [asked.slow_notes(one) for one in asked.maps()],
                tuple(asked.marked_takes(TODAY, 7)),
                [day for day in asked.days() if day.day >= SINCE],
                connection.execute(PASSAGES, {"student": one.uuid.bytes}).fetchall(),
            )
        weeks = tuple(week for week in class_week(connection, TODAY) if week.student != CEM.uuid)
    return students, weeks


def rows(room, statement):
    with closing(sqlite3.connect(room)) as connection:
        return connection.execute(statement, (ADA.uuid.bytes,)).fetchall()


def test_figures_of_what_is_newer_are_those_of_before(room):
    with closing(sqlite3.connect(room)) as connection, connection:
        # The tune that was read long ago and not since.
        ((passage,),) = rows(room, f"SELECT passage FROM passage WHERE student = ? AND last_day < '{SINCE}'")
        mark = (ADA.uuid.bytes, passage, "signed off", 1, "2026-01-26")
        connection.execute("INSERT INTO mark (student, passage, mark, nth, day) VALUES (?, ?, ?, ?, ?)", mark)
    before = figures(room)
    told = forget_older(room, SINCE)
    assert told.takes > 0
    assert figures(room) == before
    students, weeks = before
    assert any(passage.marks for passage in students["Ada"][0])
    assert [week.stuck for week in weeks if week.student == ADA.uuid] != [()]


def test_the_takes_and_notes_that_are_older_are_gone_but_those_it_is_compared_with(room):
    forget_older(room, SINCE)
    old = rows(room, f"SELECT passage, take FROM take WHERE student = ? AND day < '{SINCE}'")
    by_passage = {passage: [take for one, take in old if one == passage] for passage, _ in old}
    # Of the last ten six are new; and the fastest clean one. Of the other tune the newest.
    assert sorted(map(len, by_passage.values())) == [1, 5]
    assert rows(room, f"SELECT day FROM day WHERE student = ? AND day < '{SINCE}'") == []
    of_notes = "SELECT COUNT(DISTINCT take) FROM note JOIN take USING (student, take) WHERE student = ? AND day < "
    assert rows(room, f"{of_notes} '{SINCE}'") == [(4,)]


def test_a_student_of_whom_nothing_is_newer_goes_whole_and_their_files_are_told(room):
    told = forget_older(room, SINCE)
    assert (told.students, told.files) == (1, ("Cem.zip",))
    with closing(sqlite3.connect(room)) as connection:
        assert CEM.uuid not in {one for table in ("student", "delivery", "take") for one in counts(connection, table)}
    assert CEM.uuid.bytes not in room.read_bytes()
    assert (room.parent / "class" / "Cem.zip").exists()


def test_gathered_again_and_forgotten_again_it_is_the_same(room):
    forget_older(room, SINCE)
    with closing(sqlite3.connect(room)) as connection:
        once = held(connection)
    gather_class(room.parent / "class", room)
    forget_older(room, SINCE)
    with closing(sqlite3.connect(room)) as connection:
        assert held(connection) == once


def test_a_passage_that_is_taken_up_again_has_its_last_takes_with_all_notes(room, tmp_path):
    forget_older(room, SINCE)
    pupil = ada()
    pupil.day(TODAY + timedelta(days=1), PLACES, right=0.9, tune=TUNES[2], takes=1)
    hand_in(pupil.computer, tmp_path / "class" / "Ada.zip", later_days=1)
    gather_class(tmp_path / "class", room)
    forget_older(room, SINCE)
    gather_class(tmp_path / "class", tmp_path / "whole.sqlite")
    amiss = """
    SELECT place, n, verdict FROM note JOIN (
        SELECT student, take, place FROM take WHERE student = ? AND passage = (
            SELECT passage FROM take WHERE student = ?1 ORDER BY place DESC LIMIT 1
        ) ORDER BY place DESC LIMIT 10
    ) USING (student, take) ORDER BY place, n
    """
    assert rows(room, amiss) == rows(tmp_path / "whole.sqlite", amiss) != []


def test_what_went_comes_back_whole_where_it_is_to_be_kept_after_all(room, tmp_path):
    forget_older(room, SINCE)
    read_all_again(room)
    gather_class(tmp_path / "class", room)
    gather_class(tmp_path / "class", tmp_path / "whole.sqlite")
    with closing(sqlite3.connect(room)) as one, closing(sqlite3.connect(tmp_path / "whole.sqlite")) as other:
        assert held(one) == held(other)


@pytest.mark.parametrize(
    ("today", "months", "since"),
    [
        (date(2026, 11, 30), 6, date(2026, 5, 30)),
        (date(2026, 8, 31), 2, date(2026, 6, 30)),
        (date(2026, 3, 31), 1, date(2026, 2, 28)),
        (date(2028, 2, 29), 12, date(2027, 2, 28)),
        (date(2026, 1, 15), 25, date(2023, 12, 15)),
    ],
)
def test_so_many_months_ago_is_the_same_day_or_the_last_of_its_month(today, months, since):
    assert day_before(today, months) == since
