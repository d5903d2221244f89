"""Monday's page tells in words and tables what is known of a class, and nothing on it is run or loaded."""

import html
import re

import pytest

from game.judging.verdicts import Cause, Verdict
from game.message import verbatim
from game.music.names import NoteNames
from game.report.monday.class_monday import class_monday
from game.report.monday.monday_page import MOST_CARDS, MOST_NAMES, monday_page
from game.text.catalogue import say
from tests.practice_log.classes.made_class import TODAY, made_class
from tests.speaking import speaking

HOSTILE = '<script>alert(1)</script> & "Ada"'


@pytest.fixture
def made(tmp_path):
    with made_class(tmp_path) as made:
        yield made


def page_of(made, **more):
    students = class_monday(made.connection, TODAY, accepts=lambda _: True, names=more.get("names", NoteNames.ENGLISH))
    return monday_page(students, TODAY, **more)


def seen(page):
    """What stands on a page, tags and styles left out."""
    body = re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", body)).split())


def _class(made):
    ada, ben, cem = (made.student(number, name) for number, name in enumerate(("Ada", HOSTILE, "Cem"), start=1))
    made.day(ada, 9, minutes=44.0)
    made.day(cem, 1, minutes=31.0, takes=7)
    made.put("day", cem, day="2026-11-20", minutes=12.0, takes=2, read=40, clean=30, read_timed=10, clean_timed=9)
    made.passage(ben)
    made.stuck(ben, [("B4", Verdict.WRONG_PITCH, Cause.SIGNATURE)])
    made.set_part(ben, -3)
    return ada, ben, cem


def test_at_the_top_stands_how_many_practised_and_how_many_need_what(made):
    _class(made)
    text = seen(page_of(made))
    assert "practised this week 2 of 3 absent 1 overdue 0 stuck 1 fine 1" in text
    assert "From 24 November 2026 to 30 November 2026" in text


def test_a_row_tells_last_week_beside_this_and_first_sight_with_and_without_the_click(made):
    _class(made)
    row = re.search(r"<th scope=\"row\">Cem</th>.*?</tr>", page_of(made), flags=re.DOTALL)[0]
    assert re.findall(r"<td[^>]*>(?:<span[^>]*>)?([^<]*)<", row) == [
        "fine", "29 Nov", "1", "31", "12", "7", "70%", "90%", "–",
    ]  # fmt: skip


def test_a_day_of_another_year_stands_with_its_year(made):
    ada = made.student(1, "Ada")
    made.day(ada, 366)
    made.set_part(ada, 400)
    text = seen(page_of(made))
    assert "absent 29 November 2025 0" in text
    assert "26 October 2025" in text


def test_a_slow_note_stands_with_whoever_has_practised_until_the_day_alone(made):
    for number, (name, ago) in enumerate((("Ada", 2), ("Ben", -2)), start=1):
        student = made.student(number, name)
        made.day(student, ago)
        made.put("slow_note", student, map=1, place=1, written="Bb4", sounding=58, string=4, fret=8)
    rows = re.findall(r"<th scope=\"row\">(\w+)</th>.*?([^>]*)</td></tr>", page_of(made))
    assert [(name, slow) for name, slow in rows] == [("Ben", "–"), ("Ada", "B♭4")]


def test_who_needs_their_teacher_has_a_card_and_who_is_fine_has_none(made):
    _class(made)
    cards = re.findall(r'<section class="card">.*?</section>', page_of(made), flags=re.DOTALL)
    assert [seen(card).startswith(name) for card, name in zip(cards, ("Ada absent", HOSTILE), strict=True)] == [
        True
    ] * 2
    assert "In the lesson: Say the key" in seen(cards[1])
    assert "Set next: homefret assign" in seen(cards[1])


def test_of_more_who_are_absent_than_have_room_the_first_have_cards_and_the_others_are_named(made):
    for number in range(1, 2 * MOST_CARDS):
        made.student(number, f"Student {number:02}")
    ben = made.student(99, "Ben")
    made.passage(ben)
    made.stuck(ben, [("B4", Verdict.WRONG_PITCH, Cause.SIGNATURE)])
    page = page_of(made)
    cards = re.findall(r'<section class="card">.*?</section>', page, flags=re.DOTALL)
    assert len(cards) == MOST_CARDS
    assert seen(cards[-1]).startswith("Ben stuck")
    assert f"Also absent: Student {MOST_CARDS:02}, " in seen(page)
    assert "Also stuck" not in page


def test_a_title_of_two_hundred_signs_is_shortened_but_in_the_line_that_sets_it(made):
    ada, title = made.student(1, "Ada"), "The Long Way Round " * 10 + "End"
    made.day(ada, 1)
    made.set_part(ada, 2, title=title, set_in=title)
    page = page_of(made)
    assert page.count(title) == 1
    assert "The Long Way Round The Long Way Round The Long…, due on 28 November 2026" in seen(page)


def test_a_steep_rise_is_told_to_the_teacher_of_the_student(made):
    ada = made.student(1, "Ada")
    made.day(ada, 9, minutes=30.0)
    made.day(ada, 1, minutes=200.0)
    text = seen(page_of(made))
    assert "Practised 200 minutes this week" in text
    assert "You practised" not in text


def test_that_something_could_not_be_read_stands_at_the_top_and_leads_to_what_it_was(made):
    _class(made)
    page = page_of(made, faults=[verbatim("a.zip is broken")])
    assert page.index('href="#unread"') < page.index("<h2>") < page.index('<ul id="unread">')
    assert 'href="#unread"' not in page_of(made)


def test_names_titles_and_faults_are_text_and_links_lead_to_pages_that_are_there(made):
    ada, *_ = _class(made)
    page = page_of(made, faults=[verbatim(HOSTILE)], pages=frozenset({"student-x.html"}))
    assert "<script" not in page
    assert 'href="student-' not in page
    assert HOSTILE in seen(page)
    students = class_monday(made.connection, TODAY, accepts=lambda _: True)
    (of_ada,) = [one.page for one in students if one.week.student == ada]
    assert page_of(made, pages=frozenset({of_ada})).count(f'href="{of_ada}"') == 2


def test_notes_are_called_as_the_teacher_calls_them_and_all_words_are_in_their_language(made):
    _class(made)
    assert "most at B4" in seen(page_of(made))
    with speaking("de"):
        text = seen(page_of(made, names=NoteNames.GERMAN))
    assert "meist bei H4" in text
    assert not re.search(r"\b(absent|stuck|students?|week|practised)\b", text)


def test_everybody_fine_nothing_set_and_nobody_at_all_are_said(made):
    assert say("report.no_export_read") in seen(page_of(made))
    made.day(made.student(1, "Ada"), 1)
    text = seen(page_of(made))
    assert "Nobody: everybody practised" in text
    assert "Nothing that was set is open" in text


def test_many_who_are_overdue_are_counted_and_the_legend_tells_every_need(made):
    for number in range(1, MOST_NAMES + 3):
        student = made.student(number, f"Student {number}")
        made.day(student, 1)
        made.set_part(student, 2)
    text = seen(page_of(made))
    assert "and 2 more" in text
    assert "no take in the 7 days that end today" in text
    assert "last 10 takes, on 3 days or more, brought no mark and no gain of 5%" in text
