"""What was seen, met and known by ear before the log kept it: small files of marks beside it, one a line.

What they say is taken over into the log, at the time of its file; a file goes when the log holds all that it said.
"""

import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from game.practice_log.queries.facts import Fact
from game.practice_log.rows.entry_rows import About, us_of

MOST_BYTES = 2_000_000
_MARK = re.compile(r"[0-9a-f]{32}")
# The names of our tunes, and those made of digits.
_NAME = re.compile(r"[0-9a-z-]{1,80}")
_FILES = {
    "seen.txt": (About.OPENED_TUNE, _NAME),
    "known-by-ear.txt": (About.KNOWN_BY_EAR, _MARK),
    "lines-seen.txt": (About.MET_LINE, _MARK),
}
# So many fingerprints of lines in a fact: what a file holds of them is one long list.
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class OldMarks:
    """The marks of a file as facts, and when it was written, as far as that makes sense."""

    path: Path
    at: datetime
    facts: tuple[Fact, ...]


def read_old_marks(folder: Path, now: datetime) -> tuple[OldMarks, ...]:
    """The files of marks that are in a folder, the oldest first. Whatever is no mark in one is passed over."""
    found = []
    for name, (about, which) in _FILES.items():
        with suppress(OSError):
            found.append(_read(folder / name, about, which, now))
    return tuple(sorted(found, key=lambda marks: marks.at))


def time_of_file(path: Path, now: datetime) -> datetime:
    """When a file was written, in the zone of `now` and never later than that. Raises `OSError`."""
    try:
        return min(now, datetime.fromtimestamp(max(0.0, path.stat().st_mtime), tz=now.tzinfo))
    except (OverflowError, ValueError):
        return now


def _read(path: Path, about: About, which: re.Pattern[str], now: datetime) -> OldMarks:
    at = time_of_file(path, now)
    with path.open("rb") as file:
        lines = file.read(MOST_BYTES).decode("ascii", errors="ignore").splitlines()
    marks = list(dict.fromkeys(line for line in lines if which.fullmatch(line)))
    facts = tuple(Fact(about, content, us_of(at), "") for content in _contents(about, marks))
    return OldMarks(path, at, facts)


def _contents(about: About, marks: list[str]) -> Iterable[dict[str, Any]]:
    if about is About.MET_LINE:
        return [{"fingerprints": marks[at : at + _AT_ONCE]} for at in range(0, len(marks), _AT_ONCE)]
    known = {"known": True} if about is About.KNOWN_BY_EAR else {}
    return [{"tune": mark, **known} for mark in marks]
