"""Courses are made of a folder that came, or of what was searched for, and their bars a day can be changed."""

import pygame
import pytest

from game.coach.plan.course import FEWEST_BARS, MOST_BARS, Course
from game.screens.routes import ToCourses, ToShelf
from game.tunes.library.library import shelf
from tests.screens.tune_files import tune_folder


def courses(table):
    return table.context.session.log.facts.desk.courses


@pytest.fixture
def one(table):
    """One course of three tunes."""
    course = Course(title="Solos", tunes=tuple(entry.name for entry in shelf()[:3]))
    table.context.session.log.facts.keep_course(course)
    table.go(ToCourses())
    return table


def test_a_folder_that_was_dropped_becomes_a_course_in_its_own_order(table, tmp_path):
    table.drop(tune_folder(tmp_path))
    table.go(ToCourses())
    table.key(pygame.K_INSERT)
    (course,) = courses(table)
    entries = {entry.name: entry.title for entry in shelf()}
    assert [entries[name] for name in course.tunes] == ["Quay", "Rill", "Zeal"]
    assert table.screen.course == course


def test_what_was_searched_for_on_the_shelf_becomes_one_too(table):
    table.go(ToShelf())
    table.key(pygame.K_SLASH, "/")
    table.letters("study")
    found = tuple(entry.name for entry in table.screen.list.entries)
    table.go(ToCourses())
    table.key(pygame.K_INSERT)
    assert courses(table)[0].tunes == found


def test_without_either_there_is_nothing_to_make_one_of(table):
    table.go(ToCourses())
    for key in (pygame.K_INSERT, pygame.K_DELETE, pygame.K_UP, pygame.K_RIGHT):
        table.key(key)
    assert courses(table) == ()


def test_the_bars_of_a_day_are_changed_and_stop_at_both_ends(one):
    one.key(pygame.K_RIGHT)
    assert courses(one)[0].bars_a_day == 9
    for _ in range(40):
        one.key(pygame.K_RIGHT)
    assert courses(one)[0].bars_a_day == MOST_BARS
    for _ in range(40):
        one.key(pygame.K_LEFT)
    assert courses(one)[0].bars_a_day == FEWEST_BARS


def test_the_corner_leads_to_today_where_its_bars_are_a_step(one):
    """From the second day on."""
    one.open("F4 q, G4 q, A4 h", "F4 w")
    one.play_through()
    one.day += 1
    one.go(ToCourses())
    one.context.session.plan.replan()
    one.key(pygame.K_RETURN)
    assert one.screen_name == "TodayScreen"
    first = one.context.session.plan.course_standings()[0].today[0].name
    assert first in [step.passage for step in one.context.session.plan.progress.steps]


def test_a_course_is_ended_when_that_is_asked_for_twice(one):
    one.key(pygame.K_DELETE)
    assert "Solos" in one.context.window.message
    assert len(courses(one)) == 1
    one.key(pygame.K_DELETE)
    assert courses(one) == ()


def test_tab_leads_to_the_programme_and_back_again(one):
    one.key(pygame.K_TAB, "\t")
    assert one.screen_name == "ProgrammeScreen"
    one.key(pygame.K_TAB, "\t")
    assert one.screen_name == "CoursesScreen"


def test_of_many_courses_the_chosen_one_is_in_sight_and_a_click_chooses(one):
    for number in range(9):
        one.context.session.log.facts.keep_course(Course(title=f"Book {number}", tunes=(shelf()[number].name,)))
    one.go(ToCourses())
    one.key(pygame.K_UP)
    assert one.screen.course.title == "Book 8"
    one.picture()
    one.click((300, one.context.sheet.px(200)))
    assert one.screen.course.title != "Book 8"
