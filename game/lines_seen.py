"""Which fresh lines and siblings this player has met: their fingerprints, one a line, beside the practice log.

The newest are last; the oldest go when there are too many. A disk that refuses changes nothing: the line is read all
the same, and may come again some day.
"""

import os
import re
from contextlib import suppress
from pathlib import Path

from game.lines.fingerprint import fingerprints
from game.music.score import Score

LINES_FILE = "lines-seen.txt"
# Some six thousand lines of eight bars: years of practice.
MOST_KEPT = 20_000
_FINGERPRINT = re.compile(r"[0-9a-f]{32}")
_MOST_BYTES = 40 * MOST_KEPT


def lines_seen(folder: Path) -> frozenset[str]:
    """The fingerprints of what was met; none where nothing was kept or can be read."""
    return frozenset(_kept(folder))


def line_met(score: Score, folder: Path) -> None:
    """Remember a line that is laid on the desk."""
    kept = list(dict.fromkeys((*_kept(folder), *fingerprints(score))))[-MOST_KEPT:]
    path = folder / LINES_FILE
    draft = path.with_name(f"{LINES_FILE}.{os.getpid()}.unfinished")
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        draft.write_text("".join(f"{mark}\n" for mark in kept), encoding="ascii")
        draft.replace(path)


def _kept(folder: Path) -> list[str]:
    try:
        with (folder / LINES_FILE).open("rb") as file:
            lines = file.read(_MOST_BYTES).decode("ascii", errors="ignore").splitlines()
    except OSError:
        return []
    return [line for line in lines if _FINGERPRINT.fullmatch(line)]
