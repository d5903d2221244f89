"""Which tunes of the shelf a player has opened: their names, one a line, in the player's own folder."""

import re
from contextlib import suppress
from pathlib import Path

_FILE = "seen.txt"
# Ours and those made of digits; whatever else stands in a damaged file is passed over.
_NAME = re.compile(r"[0-9a-z-]{1,80}")
_MOST_BYTES = 2_000_000


def seen_names(folder: Path) -> frozenset[str]:
    """The names of the entries that the player of this folder opened at least once; empty where nothing was kept or
    can be read.
    """
    try:
        with (folder / _FILE).open("rb") as file:
            lines = file.read(_MOST_BYTES).decode("ascii", errors="ignore").splitlines()
    except OSError:
        return frozenset()
    return frozenset(line for line in lines if _NAME.fullmatch(line))


def now_seen(name: str, folder: Path) -> None:
    """Note that the player of this folder opened an entry. A disk that refuses changes nothing else: the tune is read
    all the same.
    """
    if name in seen_names(folder):
        return
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        with (folder / _FILE).open("a", encoding="ascii") as file:
            file.write(f"{name}\n")
