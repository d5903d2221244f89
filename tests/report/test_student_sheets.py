"""A student's page for their teacher: what stands on it, and what it leads to."""

import re
from dataclasses import replace
from datetime import timedelta
from html import unescape

import pytest

from game.practice_log.queries.figures import MOST_WRONG
from game.report.page_names import page_name
from game.report.student_of_class import MOST_WRONG_SHOWN, student_of_class
from game.report.student_sheets import MOST_LATELY, MOST_PARTS, parts_table, student_sheets, weeks_table
from game.text.catalogue import catalogue_in
from tests.report.class_with_sheets import TITLES, TODAY, advised, class_of_three, weeks_of, write_student
from tests.speaking import speaking


@pytest.fixture(scope="module")
def school_class():
    return class_of_three()


@pytest.fixture(scope="module")
def seen(school_class):
    weeks = weeks_of(school_class)
    return {name: student_of_class(school_class, week, TODAY) for name, week in weeks.items()}


@pytest.fixture(scope="module")
def page(school_class, seen):
    return student_sheets(seen["Ada"], advised(weeks_of(school_class)["Ada"]), index="index.html")


def test_the_page_lies_under_its_students_own_name_and_is_as_it_is_today(school_class, tmp_path):
    ada = advised(weeks_of(school_class)["Ada"])
    where = write_student(school_class, ada, tmp_path / "pages", TODAY)
    assert where == tmp_path / "pages" / page_name(ada.week.student)
    first = where.read_text(encoding="utf-8")
    assert "24 November 2026 to 30 November 2026" in first
    later = TODAY + timedelta(days=7)
    absent = advised(weeks_of(school_class, later)["Ada"], why=())
    second = write_student(school_class, absent, tmp_path / "pages", later).read_text(encoding="utf-8")
    assert "1 December 2026 to 7 December 2026" in second
    assert [path.name for path in where.parent.iterdir()] == [where.name]


def test_a_page_leads_to_the_page_of_all_or_nowhere_and_runs_nothing(school_class, seen, page):
    ben = student_sheets(seen["Ben"], advised(weeks_of(school_class)["Ben"]))
    for text, links in ((page, ["index.html"]), (ben, [])):
        assert re.findall(r'<a [^>]*href="([^"]*)"', text) == links
        assert "<script" not in text
        assert not re.search(r'(?:src|href)="(?!data:|index\.html|#)', text)
        assert 'http-equiv="Content-Security-Policy" content="default-src \'none\'' in text
    for other in ("Ben", "Cem"):
        assert page_name(weeks_of(school_class)[other].student) not in page


def test_what_is_told_of_a_student_and_nobody_else_stands_there_escaped(page):
    assert "<h1>Ada Lovelace</h1>" in page
    assert "Morning &amp; Evening &lt;slowly&gt;" in page
    assert "<slowly>" not in page
    assert unescape(page).count("<span>homefret</span> <span>assign</span> <span>--title") == 1
    assert not [cell for cell in re.findall(r"<t[hd][^>]*>([^<]*)<", page) if len(unescape(cell)) > 80]


def test_what_has_no_room_is_counted(page, seen):
    assert len(parts_table(seen["Ada"].parts, TODAY).rows) == 17
    assert f"{17 - MOST_PARTS} more parts were set." in page
    assert "1 more passage does not get on." in page
    assert f"{len(seen['Ada'].lately) - MOST_LATELY} more passages were played." in page


def test_of_more_faults_than_are_looked_for_no_number_is_claimed(school_class, seen):
    many = replace(seen["Ada"], wrong=(seen["Ada"].wrong[0],) * MOST_WRONG)
    page = student_sheets(many, advised(weeks_of(school_class)["Ada"]))
    assert f"At least {MOST_WRONG - MOST_WRONG_SHOWN} more faults" in page


def test_set_and_done_tells_each_state_and_overdue_ones_come_first(school_class, seen):
    ben = student_sheets(seen["Ben"], advised(weeks_of(school_class)["Ben"]))
    states = re.findall(r'data-label="state">([^<]*)<', ben)
    assert states == ["overdue by 4 days, never opened", "2 of 7 done", "done late, on 28 November 2026"]
    told = {row[3] for row in parts_table(seen["Ada"].parts, TODAY).rows}
    assert {"withdrawn by the student", "still to do", "overdue by 2 days"} <= told


def test_first_sight_with_the_click_and_without_stand_in_rows_of_their_own(seen):
    rows = {row[0]: row[1:] for row in weeks_table(seen["Ada"]).rows}
    now = seen["Ada"].now
    assert rows["minutes"] == tuple(f"{one.minutes:.0f}" for one in (now, seen["Ada"].before, seen["Ada"].weeks))
    assert f"{now.read - now.read_timed} notes" in rows["first sight without the click"][0]
    assert rows["first sight with the click"][2].endswith(f"{seen['Ada'].weeks.read_timed} notes")


def test_stuck_passages_have_curves_the_slow_notes_neck_and_staff_and_the_week_its_marked_page(page):
    for kind, many in (("curve", 3), ("neck", 1), ("staff", 1), ("sheet", 1), ("strip", 1)):
        figures = re.findall(rf'<figure class="{kind}">.*?</figure>', page, re.DOTALL)
        assert len(figures) == many
        assert all('role="img" aria-label="' in figure for figure in figures)


def test_somebody_who_never_practised_has_a_page_all_the_same(school_class, seen):
    text = student_sheets(seen["Cem"], advised(weeks_of(school_class)["Cem"], why=(), caution=None))
    assert "Nothing was set." in text
    assert "Nothing was played this week." in text
    assert '<figure class="neck">' not in text


def test_nothing_on_a_german_page_is_english(school_class, seen):
    with speaking("de"):
        text = student_sheets(seen["Ada"], advised(weeks_of(school_class)["Ada"]), index="index.html")
    english = catalogue_in("en")
    for key in ("student.heading.weeks", "student.heading.set", "student.set.open", "student.weeks.minutes"):
        assert f">{english.say(key)}<" not in text
    assert 'lang="de"' in text
    assert TITLES[0] in text
