"""The assignments of a player, out of the facts of their log."""

import hashlib
from datetime import date
from random import Random

from game.assignments.set_against_done import PartMusic
from game.player.assignment_facts import (
    MOST_ASSIGNMENTS,
    AssignmentFacts,
    digest_of,
    music_content,
    opened_content,
    plain_text,
)

MONDAY = date(2026, 11, 30)
NOON_US = 1_796_040_000_000_000
KEY = "a" * 32


def opened(text="one", title="Week", due="", day=MONDAY):
    return opened_content(text, title=title, due=due, day=day)


def heard(*contents):
    facts = AssignmentFacts()
    for count, content in enumerate(contents):
        facts.hear(content, NOON_US + count)
    return facts


def titles(facts):
    return [(kept.title, kept.text, kept.withdrawn) for kept in facts.kept]


def test_opened_twice_it_is_one():
    facts = heard(opened(), opened(day=date(2026, 12, 1)))
    assert titles(facts) == [("Week", "one", False)]
    assert facts.kept[0].day == MONDAY.toordinal()


def test_an_edited_file_of_the_same_title_is_its_newer_form():
    facts = heard(opened("one", due="2026-12-04"), opened("two", title="WEEK", due="2026-12-07"))
    assert titles(facts) == [("WEEK", "two", False)]
    assert facts.of(digest_of("one")) is facts.of(digest_of("two"))
    assert facts.kept[0].id == digest_of("two")


def test_the_same_title_every_week_is_another_each_week():
    weeks = (("one", "2026-12-07", MONDAY), ("two", "2026-12-14", date(2026, 12, 7)))
    facts = heard(*(opened(text, title="Homework", due=due, day=day) for text, due, day in weeks))
    assert [text for _, text, _ in titles(facts)] == ["one", "two"]


def test_a_correction_on_the_due_day_itself_is_no_new_one():
    facts = heard(opened("one", due="2026-12-07"), opened("two", due="2026-12-07", day=date(2026, 12, 7)))
    assert len(facts.kept) == 1


def test_an_older_form_that_is_opened_again_holds_again():
    facts = heard(opened("one"), opened("two"), opened("one"))
    assert titles(facts) == [("Week", "one", False)]


def test_it_is_withdrawn_and_taken_back_and_opened_again_it_is_back():
    digest = digest_of("one")
    gone = {"digest": digest, "withdrawn": True}
    assert titles(heard(opened(), gone)) == [("Week", "one", True)]
    assert titles(heard(opened(), gone, gone | {"withdrawn": False})) == [("Week", "one", False)]
    assert titles(heard(opened(), gone, opened())) == [("Week", "one", False)]


def test_what_parts_were_laid_down_as_is_kept_though_it_is_heard_before_the_text():
    music = PartMusic(part=0, pages=(KEY,), whole=KEY, neck_map="V")
    told = (music_content(digest_of("one"), music), {"digest": digest_of("one"), "part": 1, "tune": "65-ode"})
    for contents in ((opened(), *told), (*told, opened())):
        (form,) = heard(*contents).kept[0].forms
        assert (list(form.music), form.tunes) == ([music], {1: "65-ode"})


def test_facts_of_before_are_read_and_their_line_ends_do_not_matter():
    text = 'title = "Week"\r\n'
    old = {"title": "Week", "due": "", "digest": hashlib.sha256(text.encode()).hexdigest(), "text": text}
    facts = heard(old, opened(plain_text(text)))
    assert titles(facts) == [("Week", 'title = "Week"\n', False)]
    assert facts.kept[0].day == date(2026, 11, 30).toordinal()


def test_what_makes_no_sense_is_passed_over():
    digest = digest_of("one")
    nonsense = [
        {},
        {"text": 3, "digest": digest},
        {"text": "x", "digest": "no digest"},
        {"digest": digest, "withdrawn": "yes"},
        {"digest": digest, "part": -1, "pages": [KEY], "whole": KEY},
        {"digest": digest, "part": 0, "pages": ["../.."], "whole": KEY},
        {"digest": digest, "part": 0, "tune": "../../etc"},
        {"digest": "b" * 64, "withdrawn": True},
    ]
    facts = heard(opened(), *nonsense)
    assert titles(facts) == [("Week", "one", False)]
    assert not facts.kept[0].forms[0].music


def test_a_digest_that_lies_about_its_text_names_nothing_else():
    facts = heard(opened("one"), opened("two", title="Other") | {"digest": digest_of("one")})
    assert [text for _, text, _ in titles(facts)] == ["one", "two"]
    assert facts.of(digest_of("one")).text == "one"


def test_the_oldest_of_very_many_are_forgotten():
    facts = heard(*(opened(str(number), title=f"Week {number}") for number in range(MOST_ASSIGNMENTS + 3)))
    assert len(facts.kept) == MOST_ASSIGNMENTS
    assert facts.of(digest_of("0")) is None


def test_in_the_order_of_everything_it_does_not_matter_when_facts_came_in():
    """A computer that gathers reads all of them again, in their order."""
    contents = [(NOON_US + n, opened(f"text {n % 4}", title=f"Week {n % 3}")) for n in range(12)]
    once = heard(*(content for _, content in contents))
    shuffled = contents[:]
    Random(3).shuffle(shuffled)
    again = AssignmentFacts()
    for at, content in sorted(shuffled, key=lambda one: one[0]):
        again.hear(content, at)
    assert titles(again) == titles(once)
