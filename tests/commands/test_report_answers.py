"""What a report of a class says to programs: each student by their id, what they need, and what was set."""

import pytest

from tests.commands.running import answer
from tests.practice_log.classes.made_class import TODAY, days_ago, made_class


@pytest.fixture
def made(tmp_path):
    """Ada, who left something undone, and Ben, of whom nothing was ever judged."""
    with made_class(tmp_path) as made:
        ada, ben = made.student(1, "Ada Lovelace"), made.student(2, "Ben")
        made.day(ada, 1, minutes=20.0)
        made.day(ada, 8, minutes=11.5)
        made.set_part(ada, 2, stage="time", first_bar=1, last_bar=4)
        made.set_part(ben, -2, part=1, level=3, a_day=2, title="", done_day=days_ago(1))
    return tmp_path / "made.sqlite", tmp_path / "pages" / "index.html"


def test_a_student_is_told_by_id_with_need_week_and_parts_and_who_never_practised_apart(made):
    source, index = made
    told = answer("report", "--from", source, "--out", index, "--today", TODAY.isoformat())
    assert told["today"] == TODAY.isoformat()
    (ada,) = told["students"]
    assert (ada["id"], ada["need"]) == ("00000000-0000-0000-0000-000000000001", "overdue")
    assert ada["week"] == {"days": 1, "minutes": 20.0, "takes": 3, "before_minutes": 11.5}
    assert ada["in_the_lesson"]
    assert "Ode to Joy, bars 1–4" in ada["why"][0]
    assert ada["set_next"].startswith("homefret assign --title")
    (part,) = ada["parts"]
    assert (part["title"], part["stage"], part["due"], part["done"]) == ("Ode to Joy", "time", days_ago(2), None)
    assert part["overdue"]
    (ben,) = told["never_practised"]
    assert (ben["name"], ben["need"]) == ("Ben", "absent")
    assert (ben["parts"][0]["level"], ben["parts"][0]["done"]) == (3, days_ago(1))


def test_on_another_day_another_week_is_told_and_initials_stand_for_names_everywhere(made):
    source, index = made
    told = answer("report", "--from", source, "--out", index, "--today", days_ago(5), "--initials")
    (ada,) = told["students"]
    assert (ada["name"], ada["need"], ada["week"]["minutes"]) == ("A. L.", "fine", 11.5)
    pages = [path.read_text(encoding="utf-8") for path in index.parent.glob("*.html")]
    assert len(pages) == 2
    assert not any("Lovelace" in page for page in pages)
