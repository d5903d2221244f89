"""The head's page shows each class by its sums, with nothing that could be taken for a command of the page."""

from datetime import date

from game.practice_log.school.head_sums import ClassSums
from game.report.school_page import school_page

TODAY = date(2026, 11, 30)
NUMBERS = {
    "students": 30, "practised": 22, "week_minutes": 1234.4, "before_minutes": 0.2, "week_takes": 431, "read": 4000,
    "clean": 3000, "read_timed": 0, "clean_timed": 0,
}  # fmt: skip


def sums(name, *, teachers=("anna",), **more):
    return ClassSums(name=name, teachers=teachers, **{**NUMBERS, **more})


def test_each_class_has_its_line_and_all_of_them_a_sum():
    page = school_page([sums("3a"), sums("3b", teachers=(), students=10, practised=0, read=0)], TODAY)
    for said in ("3a", "anna", "1234", "2469", "431", "75%", "<dd>40</dd>", "<dd>22</dd>", "30 November 2026"):
        assert said in page
    assert page.count('<th scope="row">') == 2
    assert page.count('data-label="absent"') == 2


def test_a_school_without_a_class_says_what_to_do():
    page = school_page([], TODAY)
    assert "there is no class yet" in page
    assert "<table" not in page


def test_a_name_of_a_class_is_text_and_the_page_runs_and_asks_for_nothing():
    page = school_page([sums("<script>alert(1)</script>", teachers=("<b>",))], TODAY)
    assert "<script" not in page
    assert "<b>" not in page
    assert "http://" not in page
    assert "https://" not in page
