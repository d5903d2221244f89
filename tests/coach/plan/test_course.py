"""A course keeps its order, some bars a day, and is worked through several times."""

import pytest

from game.coach.events import FormerPage, PageCutAnew
from game.coach.plan.course import Course, CourseBars, CoursePassage, bars_cut_anew, course_standing
from game.coach.stages import Stage

BOOK = Course(title="Forty Solos", tunes=("one", "two"), bars_a_day=8)
PAGES = tuple(CoursePassage(name=name, tune="one" if name in "ab" else "two", bars=4) for name in "abcde")


def bars(name, at=1, day=1, wrong=1, seconds=20.0):
    return CourseBars(passage=name, round=at, wrong=wrong, notes=16, seconds=seconds, day=day)


def standing(*played, day=1, pages=PAGES, course=BOOK):
    return course_standing(course, pages, played, day)


def names(found):
    return "".join(passage.name for passage in found.today)


def test_it_goes_on_in_its_order_as_many_bars_a_day_as_were_chosen():
    assert names(standing()) == "ab"
    assert names(standing(bars("a"))) == "b"
    assert names(standing(bars("a"), bars("b"))) == ""
    assert names(standing(bars("a"), bars("b"), day=2)) == "cd"


def test_bars_longer_than_a_days_share_come_one_at_a_time():
    long = tuple(CoursePassage(name=name, tune="one", bars=12) for name in "ab")
    assert names(standing(pages=long)) == "a"


def test_it_is_worked_through_for_pitch_then_rhythm_then_with_the_metronome():
    stages, played = [], []
    for at in (1, 2, 3):
        stages.append(standing(*played, day=9).stage)
        played += [bars(name, at) for name in "abcde"]
    assert stages == [Stage.PLACES, Stage.RHYTHM, Stage.TIME]
    done = standing(*played, day=9)
    assert (done.over, done.stage, done.today) == (True, None, ())


def test_errors_and_seconds_stand_beside_those_of_the_same_bars_the_time_before():
    first = [bars(name, wrong=wrong, seconds=30.0) for name, wrong in zip("abcde", (4, 3, 9, 9, 9), strict=True)]
    found = standing(*first, bars("a", 2, 2, wrong=1), bars("b", 2, 2, wrong=0), day=2)
    assert (found.now.wrong, found.now.seconds, found.now.passages) == (1, 40.0, 2)
    assert (found.before.wrong, found.before.seconds, found.before.passages) == (7, 60.0, 2)
    begun = standing(*first, day=2)
    assert (begun.now, begun.before.wrong) == (None, 34), "nothing yet: beside all of the time before"


def test_of_the_same_bars_twice_in_a_time_through_the_first_counts():
    """Played on two computers before they were brought together, or again for a better figure."""
    found = standing(bars("a", wrong=5), bars("a", wrong=0))
    assert (found.now.wrong, found.done) == (5, 1)


def test_bars_that_are_on_the_shelf_no_more_are_passed_over_and_new_ones_are_played():
    played = [bars(name) for name in "abcde"]
    assert standing(*played, pages=PAGES[:2]).round == 2
    assert names(standing(*played, day=2, pages=(*PAGES, CoursePassage(name="f", tune="two", bars=4)))) == "f"
    nothing = standing(*played, pages=())
    assert (nothing.round, nothing.today, nothing.over) == (1, (), False)


@pytest.mark.parametrize("bars_a_day", [1, 33])
def test_a_day_has_some_bars(bars_a_day):
    with pytest.raises(ValueError, match="2 to 32"):
        Course(title="x", tunes=(), bars_a_day=bars_a_day)


def test_a_page_cut_anew_is_played_where_all_its_former_pages_were_and_has_its_share_of_them():
    said = PageCutAnew(
        is_now="new", former=(FormerPage(name="b", first=5, last=20), FormerPage(name="a", first=1, last=4))
    )
    played = (bars("a", wrong=4, seconds=40.0, day=2), bars("b", wrong=2, seconds=20.0), bars("b", 2))
    (one,) = bars_cut_anew(said, played, 1)
    assert (one.passage, one.round, one.wrong, one.notes, one.seconds, one.day) == ("new", 1, 3, 20, 30.0, 2)
    assert bars_cut_anew(said, played, 2) == ()
    assert bars_cut_anew(said, (*played, bars("new")), 1) == ()
