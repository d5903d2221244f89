"""Back-ups that are made by themselves, in a folder beside the log, at most one a day and only when something is new.

Each is checked before it counts: `PRAGMA integrity_check`, and as many takes as the log had. The newest three days are
kept, then one a week for four weeks. Its name tells the day and the number of takes, so that nothing has to be opened
to know them.

    python -m game.practice_log.back_ups.automatic LOG DAY      makes one, while nobody plays
"""

import os
import re
import sys
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from game.errors import LogError, reason_of
from game.practice_log.back_ups.backup import back_up
from game.practice_log.database.take_mark import forget_take_count

FOLDER = "back-ups"
NEWEST_KEPT, WEEKS_KEPT = 3, 4
_NAME = re.compile(r"(?P<log>.+)-(?P<day>\d{4}-\d\d-\d\d)-(?P<takes>\d{1,9})-takes\.sqlite", re.ASCII)
_NOT_COMPARED, _GO_THROUGH = "not-compared", "go-through"
_FOLDER_MODE = 0o700


@dataclass(frozen=True, slots=True, kw_only=True)
class AutomaticBackUp:
    """A back-up that was made by itself: of a day, by the clock of the computer, with so many takes."""

    path: Path
    day: date
    takes: int


def automatic_back_ups(log: Path) -> tuple[AutomaticBackUp, ...]:
    """The automatic back-ups of a log, the newest first."""
    found = []
    with suppress(OSError):
        for path in (log.parent / FOLDER).iterdir():
            named = _NAME.fullmatch(path.name)
            with suppress(ValueError):
                if named and named["log"] == log.stem and path.is_file():
                    day = date.fromisoformat(named["day"])
                    found.append(AutomaticBackUp(path=path, day=day, takes=int(named["takes"])))
    return tuple(sorted(found, key=lambda one: (one.day, one.takes), reverse=True))


def back_up_due(log: Path, today: date) -> bool:
    """Whether a back-up is due: none was made today, and the log was written to since the last one."""
    made = automatic_back_ups(log)
    if any(one.day == today for one in made):
        return False
    try:
        written = max(file.stat().st_mtime for file in (log, log.with_name(f"{log.name}-wal")) if file.exists())
        return not made or written > made[0].path.stat().st_mtime
    except (OSError, ValueError):
        return False


def make_back_up(log: Path, today: date) -> AutomaticBackUp | None:
    """Make the back-up of today, and let older ones go; None where none is due, or where the log has fewer takes than
    the last one: then that is worth more. Raises `LogError` for a log that is not sound or cannot be copied.
    """
    if not back_up_due(log, today):
        return None
    folder = log.parent / FOLDER
    draft = folder / f"{log.stem}-{today}.{os.getpid()}.unfinished"
    try:
        folder.mkdir(mode=_FOLDER_MODE, exist_ok=True)
        takes = back_up(log, draft)
        if takes < max((one.takes for one in comparable(log)), default=0):
            return None
        path = folder / f"{log.stem}-{today}-{takes}-takes.sqlite"
        draft.replace(path)
    except OSError as error:
        raise LogError("backup.cannot_be_copied", file=draft, reason=reason_of(error)) from error
    finally:
        with suppress(OSError):
            draft.unlink(missing_ok=True)
    _let_go(log)
    return AutomaticBackUp(path=path, day=today, takes=takes)


def kept_days(days: Iterable[date]) -> frozenset[date]:
    """Of back-ups of these days, those to keep: the newest three, and of those before the newest of each week, four in
    all. Weeks are those of the calendar (ISO 8601): of weeks counted from today, each day would begin others.
    """
    newest_first = sorted(set(days), reverse=True)
    older = newest_first[NEWEST_KEPT:]
    newest_of_week = {day.isocalendar()[:2]: day for day in reversed(older)}
    weekly = sorted(newest_of_week.values(), reverse=True)[:WEEKS_KEPT]
    return frozenset((*newest_first[:NEWEST_KEPT], *weekly))


def comparable(log: Path) -> tuple[AutomaticBackUp, ...]:
    """The back-ups of which the log has gone on, so that it must hold as many takes: not those of a log that another
    was put in the place of.
    """
    mark = log.parent / FOLDER / _NOT_COMPARED
    try:
        since = mark.stat().st_mtime_ns
    except OSError:
        return automatic_back_ups(log)
    return tuple(one for one in automatic_back_ups(log) if one.path.stat().st_mtime_ns > since)


def forget_longer_back_ups(log: Path) -> None:
    """Another log took the place of this one: that it holds less than it did, and than the back-ups, is meant."""
    forget_take_count(log)
    with suppress(OSError):
        if automatic_back_ups(log):
            (log.parent / FOLDER / _NOT_COMPARED).touch()


def is_suspect(log: Path) -> bool:
    """Whether the last back-up came to nothing, so that all of the log is to be gone through."""
    return (log.parent / FOLDER / _GO_THROUGH).exists()


def _let_go(log: Path) -> None:
    made = automatic_back_ups(log)
    kept = kept_days(one.day for one in made)
    for one in made:
        if one.day not in kept:
            with suppress(OSError):
                one.path.unlink()


def main(log: Path, today: date) -> int:
    """Make the back-up of a day."""
    try:
        make_back_up(log, today)
    except LogError:
        # It may be the log that is not sound: the next start goes through all of it.
        with suppress(OSError):
            (log.parent / FOLDER / _GO_THROUGH).touch()
        return 1
    with suppress(OSError):
        (log.parent / FOLDER / _GO_THROUGH).unlink(missing_ok=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), date.fromisoformat(sys.argv[2])))
