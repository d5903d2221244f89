"""Each student is told with what they need, why, what to do in the lesson, and what to set: as it was planted."""

from datetime import timedelta

import pytest

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.need import Need
from game.report.monday.class_monday import MOST_REASONS, class_monday
from game.report.page_names import page_name
from game.text.catalogue import tell
from tests.practice_log.classes.made_class import TODAY, days_ago, made_class
from tests.speaking import speaking

LEDGER = ("A5", Verdict.WRONG_PITCH, Cause.LEDGER)


@pytest.fixture
def made(tmp_path):
    with made_class(tmp_path) as made:
        yield made


def anything(_words):
    return True


def monday(made, **more):
    return {one.name: one for one in class_monday(made.connection, TODAY, **{"accepts": anything} | more)}


def _line(student):
    return student.set_next


def test_who_is_absent_has_two_bars_of_what_they_played_last_and_who_never_came_fresh_lines(made):
    ada = made.student(1, "Ada")
    made.student(2, "Ben")
    made.passage(ada)
    made.day(ada, 9)
    made.take(ada, 9)
    told = monday(made)
    assert {one.week.need for one in told.values()} == {Need.ABSENT}
    assert "21 November 2026" in tell(told["Ada"].why[0])
    assert '--tune "Ode to Joy:1-2" --stage places --due 2026-12-07' in _line(told["Ada"])
    assert "--lines 1:1" in _line(told["Ben"])
    assert "not practised yet" in tell(told["Ben"].why[0])
    assert all("ten minutes" in tell(one.lesson) for one in told.values())


def test_what_is_overdue_is_told_with_its_day_and_half_of_it_set_for_a_later_one(made):
    ada = made.student(1, "Ada")
    made.day(ada, 1)
    made.set_part(ada, 2, part=0, stage="time", first_bar=1, last_bar=8, target_bpm=72)
    made.set_part(ada, 2, part=1, level=3, a_day=4, title="")
    made.set_part(ada, 2, part=2, stage="places", done_day=days_ago(3))
    made.set_part(ada, -2, part=3, stage="places")
    (told,) = monday(made).values()
    assert told.week.need is Need.OVERDUE
    assert [tell(why) for why in told.why] == [
        "Ode to Joy, bars 1–8, due on 28 November 2026.",
        "Fresh lines of level 3, 4 a day, due on 28 November 2026.",
    ]
    assert '--tune "Ode to Joy:1-4" --stage time --tempo 72 --due 2026-12-07' in _line(told)


def test_where_the_tempo_that_was_set_is_far_off_the_next_one_is_within_reach(made):
    ada = made.student(1, "Ada")
    made.day(ada, 1)
    made.passage(ada, bars=("5", "8"))
    made.take(ada, 1, stage="time", bpm=80.0, clean=True)
    made.take(ada, 1, stage="time", bpm=120.0)
    made.set_part(ada, 2, part=0, stage="time", first_bar=1, last_bar=8, target_bpm=160)
    assert "--tempo 84 " in _line(monday(made)["Ada"])


def test_more_than_can_be_told_is_counted(made):
    ada = made.student(1, "Ada")
    made.day(ada, 1)
    for part in range(MOST_REASONS + 2):
        made.set_part(ada, 2, part=part, title=f"Tune {part}")
    (told,) = monday(made).values()
    assert tell(told.why[-1]) == "And 2 more."
    assert len(told.why) == MOST_REASONS + 1


def test_who_is_stuck_has_the_passage_the_notes_the_cause_and_the_tempo_and_its_cure(made):
    ada = made.student(1, "Ada")
    made.passage(ada, target=88)
    made.stuck(ada, [LEDGER], stage="time", bpm=61.0)
    (told,) = monday(made).values()
    assert told.week.need is Need.STUCK
    assert tell(told.why[0]) == (
        "Ode to Joy, bars 1–4: the ledger lines, most at A5. Tempo: last at 61, never clean yet, target 88."
    )
    assert "ledger lines" in tell(told.lesson)
    assert "A5" in tell(told.lesson)
    assert '--tune "Ode to Joy:1-4" --stage letters,places' in _line(told)
    with speaking("de"):
        (told,) = monday(made).values()
        assert "Hilfslinien" in tell(told.lesson)
        assert "Takte 1–4" in _line(told)


def test_a_tempo_that_is_too_fast_is_set_slower_two_bars_at_a_time(made):
    ada = made.student(1, "Ada")
    made.passage(ada)
    made.take(ada, 20, stage="time", bpm=60.0, clean=True)
    for ago in (9, 7, 5, 3, 1):
        made.day(ada, ago)
        made.take(ada, ago, stage="time", bpm=60.0, clean=True)
        made.take(ada, ago, stage="time", bpm=80.0, amiss=[LEDGER] * 6)
    (told,) = monday(made).values()
    assert "the tempo" in tell(told.why[0])
    assert '"Ode to Joy:1-2" --stage time --tempo 54 ' in _line(told)


def test_music_that_is_on_no_shelf_and_lines_are_set_as_lines_of_that_kind(made):
    ada, ben = made.student(1, "Ada"), made.student(2, "Ben")
    made.passage(ada, title="My own $(song)")
    made.passage(ben, title="Thirds in an octave, in F")
    for one in (ada, ben):
        made.stuck(one, [LEDGER])
    told = monday(made, accepts=lambda words: "--lines" in words)
    assert "--lines 3:1 --stage letters,places" in _line(told["Ada"])
    assert "My own $(song)" in tell(told["Ada"].hint)
    assert "--lines 2:1" in _line(told["Ben"])
    assert told["Ben"].hint is None
    assert monday(made, accepts=lambda _: False)["Ada"].set_next == ""


def test_who_gets_on_is_fine_and_comes_last(made):
    for number, name in enumerate(("Zoe", "Ada"), start=1):
        student = made.student(number, name)
        if name == "Ada":
            made.day(student, 1)
    told = monday(made)
    assert list(told) == ["Zoe", "Ada"]
    assert (told["Ada"].week.need, told["Ada"].why, told["Ada"].set_next) == (Need.FINE, (), "")


def test_two_of_one_name_are_told_apart_by_their_files_and_else_by_their_folders(made):
    ids = [
        made.student(number, "Ada", file=file)
        for number, file in enumerate(("ada m.zip", "ada b.zip", "x/same.zip", "y/same.zip"), start=1)
    ]
    made.student(9, "Ben")
    told = monday(made)
    assert set(told) == {"Ada (ada m)", "Ada (ada b)", "Ada (x)", "Ada (y)", "Ben"}
    assert {one.page for one in told.values()} >= {page_name(one) for one in ids}


def test_where_each_has_a_folder_and_all_files_are_called_the_same_the_folder_tells_them_apart(made):
    for number, folder in enumerate(("3a/Monday", "3a/Friday", "3a/Friday/new"), start=1):
        made.student(number, "Ada", file=f"{folder}/export.zip")
    assert monday(made).keys() == {"Ada (Monday)", "Ada (Friday) (0002)", "Ada (Friday) (0003)"}


def test_who_practised_after_the_day_alone_is_told_with_that_day_and_asked_nothing(made):
    ada = made.student(1, "Ada")
    made.day(ada, -365)
    made.day(ada, -364)
    (told,) = monday(made).values()
    assert told.week.need is Need.ABSENT
    assert "the first take is of 29 November 2027" in tell(told.why[0])
    assert (told.lesson, told.line) == (None, ())


def test_where_no_file_may_be_asked_for_two_of_one_name_are_told_apart_by_their_ids(made):
    for number in (1, 2):
        made.student(number, "Ada", file=f"ada {number}.zip")
    made.connection.execute("DROP TABLE delivery")
    assert set(monday(made, by_file=False)) == {"Ada (0001)", "Ada (0002)"}


def test_initials_stand_where_that_is_asked_for_in_names_and_files(made):
    made.student(1, "Ada Lovelace")
    made.student(2, "Ben Ode")
    told = monday(made, initials=True)
    assert set(told) == {"A. L.", "B. O."}
    assert "ovelace" not in "".join(map(_line, told.values()))


def test_much_more_practice_than_usual_is_told_with_care_and_a_little_more_is_not(made):
    for number, (name, minutes) in enumerate((("Ada", 60.0), ("Ben", 22.0)), start=1):
        student = made.student(number, name)
        for ago in range(7, 35):
            made.day(student, ago, minutes=20.0)
        for ago in range(7):
            made.day(student, ago, minutes=minutes)
    told = monday(made)
    assert told["Ada"].caution is not None
    assert told["Ben"].caution is None


def test_what_was_played_after_the_day_is_not_known_on_it(made):
    ada = made.student(1, "Ada")
    made.passage(ada)
    made.stuck(ada, [LEDGER])
    (told,) = class_monday(made.connection, TODAY - timedelta(days=10), accepts=anything)
    assert told.week.need is Need.ABSENT


def test_no_line_of_a_class_writes_over_the_file_of_another(made):
    """Plain letters leave many names alike."""
    for number, name in enumerate(("Jörg", "Jorg", "王芳", "李娜", "Ada"), start=1):
        made.student(number, name)
    files = [one.set_next.rpartition(" ")[2] for one in monday(made).values()]
    assert len(set(files)) == len(files) == 5
    assert {file.partition("-")[0] for file in files} == {"jorg", "student", "ada.toml"}
