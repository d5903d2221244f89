"""The due day of an assignment is an event that any calendar reads (RFC 5545)."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.assignments.assignment import AssignedLines, Assignment
from game.assignments.due_calendar import LONGEST_LINE, due_calendar
from tests.sampling import how_many

DUE = date(2026, 12, 4)
ID = "0123456789abcdef" * 4
MADE = datetime(2026, 11, 30, 9, 5, tzinfo=timezone(timedelta(hours=13)))


def made(title="Week 12", words="", *, at=MADE):
    assignment = Assignment(title=title, due=DUE, lines=(AssignedLines(level=1),))
    return due_calendar(assignment, ID, words, made=at)


def event(raw):
    icalendar = pytest.importorskip("icalendar")
    (found,) = icalendar.Calendar.from_ical(raw).walk("VEVENT")
    return found


def test_it_is_read_by_another_program_as_it_was_meant():
    read = event(made("Woche 12; „leise“, bitte\\", "Ode to Joy,\nthen lines"))
    assert str(read["SUMMARY"]) == "Woche 12; „leise“, bitte\\"
    assert str(read["DESCRIPTION"]) == "Ode to Joy,\nthen lines"
    # A day and no time: it is that of the student, in whatever zone.
    assert (read.decoded("DTSTART"), read.decoded("DTEND")) == (DUE, date(2026, 12, 5))
    assert read.decoded("DTSTAMP") == MADE.astimezone(UTC)


def test_made_anew_it_is_the_same_event():
    later = made(at=MADE + timedelta(days=3))
    assert b"UID:0123456789abcdef0123456789abcdef@homefret\r\n" in later
    assert later != made()
    assert [line for line in later.splitlines() if b"DTSTAMP" not in line] == [
        line for line in made().splitlines() if b"DTSTAMP" not in line
    ]


@given(title=st.text(min_size=1, max_size=300).filter(lambda text: text.strip()), words=st.text(max_size=300))
@settings(max_examples=how_many(500, by_default=40), deadline=None)
def test_lines_end_as_they_must_and_are_never_too_long(title, words):
    raw = made(title, words)
    assert raw.endswith(b"\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")
    lines = raw.split(b"\r\n")[:-1]
    assert max(map(len, lines)) <= LONGEST_LINE
    # No letter is cut in two.
    assert all(line.decode("utf-8") is not None for line in lines)
    assert raw.count(b"BEGIN:") == raw.count(b"\r\nEND:") == 2


def test_a_title_of_two_hundred_letters_comes_back_whole():
    title = "Übung für Löwenzähne – " * 9
    assert str(event(made(title))["SUMMARY"]) == title.strip()


def test_without_a_day_there_is_nothing_for_a_calendar():
    with pytest.raises(ValueError, match="no day"):
        due_calendar(Assignment(title="x"), ID, "", made=MADE)
