"""The due day of an assignment is an event that any calendar reads (RFC 5545)."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.assignments.assignment import AssignedLines, Assignment
from game.assignments.due_calendar import LONGEST_LINE, due_calendar, event_in
from tests.sampling import how_many

DUE = date(2026, 12, 4)
MADE = datetime(2026, 11, 30, 9, 5, tzinfo=timezone(timedelta(hours=13)))


def made(title="Week 12", words="", *, at=MADE, due=DUE, former=None):
    assignment = Assignment(title=title, due=due, lines=(AssignedLines(level=1),))
    return due_calendar(assignment, words, made=at, former=former)


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


def told(raw):
    read = event(raw)
    return str(read["UID"]), read["SEQUENCE"], read.decoded("LAST-MODIFIED")


def test_made_anew_from_the_same_file_it_is_the_same_event_unchanged():
    first, at = made(), MADE + timedelta(days=3)
    for again in (made(at=at, former=event_in(first)), made("WEEK 12", at=MADE)):
        assert told(again)[0] == told(first)[0]
    assert told(made(at=at, former=event_in(first))) == (told(first)[0], 0, MADE.astimezone(UTC))
    assert told(made(due=date(2026, 12, 11)))[0] != told(first)[0]


def test_edited_it_is_the_same_event_changed_once_more():
    """RFC 5545, 3.8.7.4 and 3.8.7.3, by memory (mem), as another program reads them."""
    raw, at = made(words="Ode to Joy, " * 20), MADE
    uid = told(raw)[0]
    for count, change in enumerate(({"due": date(2026, 12, 7)}, {"words": "lines"}, {"title": "WEEK 12"}), start=1):
        at += timedelta(days=1)
        former = event_in(raw)
        assert former.is_titled("week 12")
        raw = made(at=at, former=former, **change)
        assert told(raw) == (uid, count, at.astimezone(UTC))


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\xff\x00\x81",
        b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n",
        made().replace(b"Homefret//", b"Somebody//"),
        made().replace(b"20261204", b"20269999"),
        made().replace(b"UID", b"UIX"),
    ],
)
def test_a_calendar_of_somebody_else_or_a_broken_one_is_no_former_event(raw):
    assert event_in(raw) is None


def test_a_count_that_nobody_can_have_made_is_begun_again():
    for count in (b"SEQUENCE:" + b"9" * 5000, b"SEQUENCE:-4", b"SEQUENCE:x"):
        assert event_in(made().replace(b"SEQUENCE:0", count)).sequence == 0


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
        due_calendar(Assignment(title="x"), "", made=MADE)
