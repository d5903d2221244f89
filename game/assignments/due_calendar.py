"""The due day of an assignment as a calendar: RFC 5545, for whatever calendar a student or parent uses. Pure.

An event has the id of its assignment, so that a calendar that is made anew is the same event and none beside it. Lines
end with CRLF and are no longer than 75 octets (3.1), what is longer is folded between letters; text is escaped
(3.3.11).
"""

from datetime import UTC, date, datetime, timedelta
from typing import Final

from game.assignments.assignment import Assignment
from game.text.clean_text import cleaned

LONGEST_LINE: Final = 75
"""Octets, without the line end (RFC 5545, 3.1)."""

_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


def due_calendar(assignment: Assignment, assignment_id: str, words: str, *, made: datetime) -> bytes:
    """The calendar of an assignment that is due on a day, as a file. `assignment_id` is the digest of its text, `words`
    what is to be done, `made` when the calendar is made, in any zone. The day is one of the student's, whatever zone
    they live in, so it has none. Raises `ValueError` where no day was set.
    """
    if assignment.due is None:
        raise ValueError(f"no day was set for {assignment.title!r}")
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Homefret//Assignments//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        "BEGIN:VEVENT",
        f"UID:{assignment_id[:32]}@homefret",
        f"DTSTAMP:{made.astimezone(UTC):%Y%m%dT%H%M%SZ}",
        f"DTSTART;VALUE=DATE:{_day(assignment.due)}",
        *([f"DTEND;VALUE=DATE:{_day(assignment.due + timedelta(days=1))}"] if assignment.due < date.max else []),
        f"SUMMARY:{_text(assignment.title)}",
        *([f"DESCRIPTION:{_text(words)}"] if words else []),
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
        "END:VCALENDAR",
    ]
    return b"".join(_folded(line) for line in lines)


def _day(day: date) -> str:
    return f"{day.year:04}{day.month:02}{day.day:02}"


def _text(text: str) -> str:
    """A text on one line: what an alarm of a phone would make of control characters, nobody knows."""
    return "\n".join(cleaned(line, 2000) for line in text.splitlines()).translate(_ESCAPED)


def _folded(line: str) -> bytes:
    """A line with its end, in as many pieces as it takes; all but the first begin with a space, which counts."""
    pieces, piece = [], b""
    for letter in line:
        raw = letter.encode("utf-8", "replace")
        if len(piece) + len(raw) > LONGEST_LINE:
            pieces.append(piece)
            piece = b" "
        piece += raw
    return b"".join(one + b"\r\n" for one in (*pieces, piece))
