"""What is older than a school keeps goes out of its database as it goes out of a class's file, and comes back."""

import shutil
from datetime import timedelta

import pytest

from game.errors import LogError
from game.practice_log.classes.forgotten_by_age import day_before, forget_older
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_keeping import forget_in_school, keep_in_school, kept_in_school
from tests.practice_log.classes.old_practice import PLACES, SINCE, TIMED, TODAY, ada, hand_in_all
from tests.practice_log.classes.students import ADA, BEN, CEM, Pupil, hand_in
from tests.practice_log.school.schools import gathered, in_file, in_school
from tests.practice_log.transfer.practised import TUNES
from tests.refusing import refusal

MONTHS = 6
TABLES_LEFT = "SELECT COUNT(*) FROM note", "SELECT COUNT(*) FROM take", "SELECT COUNT(*) FROM day"


@pytest.fixture(scope="module")
def gathered_whole(tmp_path_factory):
    folder = tmp_path_factory.mktemp("old")
    hand_in_all(folder / "3a")
    gathered(folder / "3a", folder / "3a.sqlite")
    return folder


@pytest.fixture
def room(gathered_whole, tmp_path):
    shutil.copytree(gathered_whole, tmp_path, dirs_exist_ok=True)
    return tmp_path


def bring(staff, path, today=TODAY):
    server, school = staff
    return bring_into_school(path, server.address(school, "gina"), "3a", source=path.stem, today=today)


def keep(staff, months, *, by="gina"):
    server, school = staff
    with school_connection(server.address(school, by)) as connection:
        keep_in_school(connection, months)


def asked(staff, *statements):
    server, school = staff
    with school_connection(server.address(school)) as admin:
        return [admin.execute(statement).fetchall() for statement in statements]


def same_in_both(staff, path):
    for player in (ADA, BEN, CEM):
        assert in_school(staff, player) == in_file(path, player)
    days, sums = asked(staff, "SELECT student, day, takes FROM day", "SELECT student, day, takes FROM day_sums")
    assert sorted(days) == sorted(sums)
    assert min(day for _, day, _ in days) >= SINCE.isoformat()


@pytest.mark.parametrize("file_forgot", [True, False])
def test_what_goes_and_what_stays_is_the_same_in_both_databases(staff, room, file_forgot):
    bring(staff, room / "3a.sqlite")
    assert in_school(staff, CEM)["take"]
    keep(staff, MONTHS)
    path = shutil.copy(room / "3a.sqlite", room / "forgot.sqlite")
    assert forget_older(path, SINCE).takes > 0
    # The students of the class's file did not change: what is older goes all the same.
    told = bring(staff, room / "3a.sqlite")
    assert told.faults[-1].key == "school.kept_since"
    same_in_both(staff, path)
    assert not any(in_school(staff, CEM).values())
    # And again, whether the file holds all of it or has forgotten as much.
    for _ in range(2):
        bring(staff, path if file_forgot else room / "3a.sqlite")
        same_in_both(staff, path)


def test_who_practises_on_has_the_same_figures_in_both_as_days_go_by(staff, room):
    """What was kept to be compared with goes in its turn, and passages keep what they came to."""
    path, pupil = room / "3a.sqlite", ada()
    keep(staff, MONTHS)
    forget_older(path, SINCE)
    bring(staff, path)
    for week in range(1, 4):
        today = TODAY + timedelta(weeks=week)
        pupil.day(today, TIMED, right=0.6, takes=4)
        if week == 2:
            pupil.day(today, PLACES, right=0.9, tune=TUNES[2], takes=2)
        hand_in(pupil.computer, room / "3a" / "Ada.zip", later_days=7 * week)
        gather_class(room / "3a", path)
        forget_older(path, day_before(today, MONTHS))
        bring(staff, path, today)
        assert in_school(staff, ADA) == in_file(path, ADA)


def test_two_folders_that_forget_what_each_knows_keep_the_sums_of_passages(staff, tmp_path):
    at_home, at_school = Pupil(ADA, 1), Pupil(ADA, 2)
    for week in reversed(range(20)):
        at_home.day(SINCE - timedelta(weeks=week + 1), PLACES, right=0.9)
        at_school.day(TODAY - timedelta(days=week), PLACES, right=0.9)
    keep(staff, MONTHS)
    files = {}
    for name, one in (("home", at_home), ("school", at_school)):
        one.day(TODAY, PLACES, right=0.9)
        hand_in(one.computer, tmp_path / name / "Ada.zip")
        files[name] = gathered(tmp_path / name, tmp_path / f"{name}.sqlite")
    for name in ("home", "school", "home", "school"):
        forget_older(files[name], SINCE)
        bring(staff, files[name])
        ((takes, first_day),) = asked(staff, "SELECT takes, first_day FROM passage")[0]
        assert takes >= 3 * 21
        if name == "school":
            assert first_day == (SINCE - timedelta(weeks=20)).isoformat()
    days = asked(staff, "SELECT day, takes FROM day ORDER BY day")[0]
    assert days[-1] == (TODAY.isoformat(), 9)
    assert len(days) == 20


def test_those_who_are_in_no_class_any_more_are_forgotten_too(staff, room):
    bring(staff, room / "3a.sqlite")
    asked_for = "SELECT COUNT(*) FROM class_student"
    (room / "3a" / "Cem.zip").unlink()
    gather_class(room / "3a", room / "3a.sqlite")
    bring(staff, room / "3a.sqlite")
    assert in_school(staff, CEM)["take"]
    keep(staff, MONTHS)
    bring(staff, room / "3a.sqlite")
    assert not any(in_school(staff, CEM).values())
    assert asked(staff, asked_for) == [[(2,)]]


def test_what_went_comes_back_where_it_is_to_be_kept_after_all(staff, room):
    keep(staff, MONTHS)
    bring(staff, room / "3a.sqlite")
    assert not any(in_school(staff, CEM).values())
    keep(staff, None)
    bring(staff, room / "3a.sqlite")
    for player in (ADA, BEN, CEM):
        assert in_school(staff, player) == in_file(room / "3a.sqlite", player)


@pytest.mark.parametrize("person", ["anna", "hugo"])
def test_neither_a_teacher_nor_a_head_says_how_long_it_is_kept_or_forgets(staff, room, person):
    """The database refuses it, by whatever statement."""
    server, school = staff
    bring(staff, room / "3a.sqlite")
    before = asked(staff, *TABLES_LEFT)
    with refusal(LogError, "allows you none of that"):
        keep(staff, MONTHS, by=person)
    for forbidden in (
        lambda connection: forget_in_school(connection, SINCE),
        kept_in_school,
        lambda connection: connection.execute("INSERT INTO keeping VALUES (1, 2)"),
        lambda connection: connection.execute("DELETE FROM day WHERE day < '2026-05-29'"),
    ):
        with (
            refusal(LogError, "allows you none of that"),
            school_connection(server.address(school, person)) as connection,
        ):
            forbidden(connection)
    assert asked(staff, *TABLES_LEFT, "SELECT COUNT(*) FROM keeping") == [*before, [(0,)]]
