"""Which tunes of the shelf the player has opened: their names, one a line, in the library's folder."""

import re
from contextlib import suppress
from pathlib import Path

from game.tunes.library import library_folder

_FILE = "seen.txt"
# Ours and those made of digits; whatever else stands in a damaged file is passed over.
_NAME = re.compile(r"[0-9a-z-]{1,80}")
_MOST_BYTES = 2_000_000


def seen_names(folder: Path | None = None) -> frozenset[str]:
    """The names of the entries that were opened at least once; empty where nothing was kept or can be read."""
    try:
        with ((folder or library_folder()) / _FILE).open("rb") as file:
            lines = file.read(_MOST_BYTES).decode("ascii", errors="ignore").splitlines()
    except OSError:
        return frozenset()
    return frozenset(line for line in lines if _NAME.fullmatch(line))


def now_seen(name: str, folder: Path | None = None) -> None:
    """Note that an entry was opened. A disk that refuses changes nothing else: the tune is read all the same."""
    home = folder or library_folder()
    if name in seen_names(home):
        return
    with suppress(OSError):
        home.mkdir(parents=True, exist_ok=True)
        with (home / _FILE).open("a", encoding="ascii") as file:
            file.write(f"{name}\n")
