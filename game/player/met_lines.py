"""Which fresh lines and siblings this player has met: their fingerprints, one a line, beside the practice log.

The newest are last; the oldest go when there are too many. A disk that refuses changes nothing: the line is read all
the same, and may come again some day.
"""

import re
from pathlib import Path

from game.lines.fingerprint import fingerprints
from game.music.score import Score
from game.player.id_files import read_ids, write_ids

LINES_FILE = "lines-seen.txt"
# Some six thousand lines of eight bars: years of practice.
MOST_KEPT = 20_000
_FINGERPRINT = re.compile(r"[0-9a-f]{32}")


def read_met_lines(folder: Path) -> frozenset[str]:
    """The fingerprints of what was met; none where nothing was kept or can be read."""
    return frozenset(read_ids(folder / LINES_FILE, _FINGERPRINT))


def add_met_line(score: Score, folder: Path) -> None:
    """Remember a line that is laid on the desk."""
    path = folder / LINES_FILE
    write_ids(path, list(dict.fromkeys((*read_ids(path, _FINGERPRINT), *fingerprints(score))))[-MOST_KEPT:])
