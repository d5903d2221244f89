"""How many takes a log holds at least, in a small file beside it: what was written last stands in a journal, and where
that is gone the log hangs together without it, and nobody would notice.
"""

import json
import sqlite3
from contextlib import suppress
from pathlib import Path

_ENDING = ".takes"
_MOST_BYTES = 1000


def keep_take_count(log: Path, connection: sqlite3.Connection) -> None:
    """Note how many takes are in the log by now. A disk that refuses changes nothing."""
    mark = log.with_name(log.name + _ENDING)
    draft = mark.with_name(f"{mark.name}.unfinished")
    with suppress(OSError, sqlite3.Error):
        (takes,) = connection.execute("SELECT count(*) FROM take").fetchone()
        draft.touch(mode=0o600)
        draft.write_text(json.dumps(takes), encoding="ascii")
        draft.replace(mark)


def takes_at_least(log: Path) -> int:
    """How many takes were in the log when that was noted last; 0 where nobody knows."""
    mark = log.with_name(log.name + _ENDING)
    with suppress(OSError, ValueError):
        if mark.is_file() and mark.stat().st_size <= _MOST_BYTES:
            takes = json.loads(mark.read_text(encoding="ascii"))
            return takes if isinstance(takes, int) else 0
    return 0


def forget_take_count(log: Path) -> None:
    """Another log is in the place of this one, or takes are known to be gone. A disk that refuses changes nothing."""
    with suppress(OSError):
        log.with_name(log.name + _ENDING).unlink(missing_ok=True)
