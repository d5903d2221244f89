"""What is said of a course."""

from dataclasses import replace

from game.coach.plan.course import Course, CourseStanding, RoundFigures
from game.screens.choosing.course_words import course_title, figures_in_words, standing_in_words
from game.tunes.library.library import shelf

COURSE = Course(title="Solos", tunes=("a", "b"), bars_a_day=12)
NOW = RoundFigures(round=2, passages=3, wrong=1, notes=20, seconds=61.4)
BEFORE = RoundFigures(round=1, passages=3, wrong=7, notes=20, seconds=90.0)


def standing(**what):
    return CourseStanding(**{"course": COURSE, "round": 2, "done": 3, "passages": 14, "today": (), **what})


def test_a_course_is_called_by_its_composer_or_by_its_first_tune_and_no_two_alike():
    tunes = tuple(replace(entry, composer="Fernando") for entry in shelf()[:3])
    assert course_title(tunes, ()) == "Fernando"
    assert course_title(tunes, ("Fernando", "Fernando 2")) == "Fernando 3"
    mixed = (replace(tunes[0], title="First"), replace(tunes[1], composer="Other"))
    assert course_title(mixed, ()) == "First and what follows, 2 tunes"


def test_it_says_which_time_through_it_is_and_how_far_that_has_come():
    assert standing_in_words(standing()) == "Second time through, the rhythm: 3 of 14 passages; 12 bars a day"
    assert standing_in_words(standing(round=4)) == "Worked through three times, 14 passages."
    assert standing_in_words(standing(passages=0)) == "None of its tunes is on the shelf."


def test_errors_and_seconds_stand_beside_those_of_the_time_before():
    assert figures_in_words(standing()) == ""
    assert figures_in_words(standing(now=NOW)) == "So far 1 of 20 notes wrong in 61 seconds."
    assert figures_in_words(standing(before=BEFORE)) == "The time before: 7 of 20 notes wrong in 90 seconds."
    assert figures_in_words(standing(now=NOW, before=BEFORE)) == (
        "This time 1 of 20 notes wrong in 61 seconds; the time before 7 of 20 notes wrong in 90 seconds."
    )
