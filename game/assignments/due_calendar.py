"""The due day of an assignment as a calendar: RFC 5545, for whatever calendar a student or parent uses. Pure.

A calendar that is made anew for an assignment is the same event, changed, and none beside it. Lines end with CRLF and
are no longer than 75 octets (3.1), what is longer is folded between letters; text is escaped (3.3.11).
"""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final

from game.assignments.assignment import Assignment
from game.text.clean_text import cleaned

LONGEST_LINE: Final = 75
"""Octets, without the line end (RFC 5545, 3.1)."""

_PRODID = "PRODID:-//Homefret//Assignments//EN"
_TOLD = ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION")
_DAY = re.compile(r"([0-9]{4})([0-9]{2})([0-9]{2})")
_MOST_DIGITS = 6
_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


@dataclass(frozen=True, slots=True, kw_only=True)
class DueEvent:
    """The event of a calendar that was made before: its id, how often it was changed, and the lines of it."""

    uid: str
    sequence: int
    due: date
    lines: tuple[str, ...]

    def is_titled(self, title: str) -> bool:
        """Whether it is of an assignment of this title."""
        return f"SUMMARY:{_text(title)}".casefold() in {line.casefold() for line in self.lines}


def event_in(raw: bytes) -> DueEvent | None:
    """The event of a calendar that was made here, whatever else became of the file; None for any other."""
    text = raw.decode("utf-8", "replace").replace("\r\n", "\n").replace("\n ", "").replace("\n\t", "")
    lines = tuple(text.split("\n"))
    told = dict(line.split(":", 1) for line in lines if ":" in line)
    found = _DAY.fullmatch(told.get("DTSTART;VALUE=DATE", ""))
    if _PRODID not in lines or found is None or not told.get("UID"):
        return None
    sequence = told.get("SEQUENCE", "0")
    try:
        due = date(*map(int, found.groups()))
    except ValueError:
        return None
    number = int(sequence) if sequence.isdecimal() and len(sequence) <= _MOST_DIGITS else 0
    return DueEvent(uid=told["UID"], sequence=number, due=due, lines=lines)


def due_calendar(assignment: Assignment, words: str, *, made: datetime, former: DueEvent | None = None) -> bytes:
    """The calendar of an assignment that is due on a day, as a file. `words` are what is to be done, `made` is when the
    calendar is made, in any zone. `former` is the event of the same assignment that was made before, where that is
    known: it is that one, changed once more (3.8.7.4). Where it is not, the id is that of title and day, so that the
    same file gives the same event. The day is one of the student's, whatever zone they live in, so it has none. Raises
    `ValueError` where no day was set.
    """
    if assignment.due is None:
        raise ValueError(f"no day was set for {assignment.title!r}")
    told = (
        f"DTSTART;VALUE=DATE:{_day(assignment.due)}",
        *((f"DTEND;VALUE=DATE:{_day(assignment.due + timedelta(days=1))}",) if assignment.due < date.max else ()),
        f"SUMMARY:{_text(assignment.title)}",
        *((f"DESCRIPTION:{_text(words)}",) if words else ()),
    )
    now = f"{made.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        _PRODID,
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        "BEGIN:VEVENT",
        f"UID:{_uid(assignment.title, assignment.due) if former is None else former.uid}",
        f"DTSTAMP:{now}",
        *_changed(told, former, now),
        *told,
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
        "END:VCALENDAR",
    ]
    return b"".join(_folded(line) for line in lines)


def _changed(told: Sequence[str], former: DueEvent | None, now: str) -> tuple[str, str]:
    """How often it was changed, and when last."""
    if former is None:
        return "SEQUENCE:0", f"LAST-MODIFIED:{now}"
    before = [line for line in former.lines if line.startswith(_TOLD)]
    when = next((line for line in former.lines if line.startswith("LAST-MODIFIED:")), f"LAST-MODIFIED:{now}")
    if before == list(told):
        return f"SEQUENCE:{former.sequence}", when
    return f"SEQUENCE:{former.sequence + 1}", f"LAST-MODIFIED:{now}"


def _uid(title: str, due: date) -> str:
    """By title and day (SHA-256, FIPS 180-4)."""
    named = f"{cleaned(title).casefold()}\n{due.isoformat()}"
    return f"{hashlib.sha256(named.encode('utf-8', 'replace')).hexdigest()[:32]}@homefret"


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
