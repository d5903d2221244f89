"""Which tunes of the shelf a player has opened: their names, one a line, in the player's own folder."""

import re
from pathlib import Path

from game.player.id_files import read_ids, write_ids

_FILE = "seen.txt"
# Ours and those made of digits; whatever else stands in a damaged file is passed over.
_NAME = re.compile(r"[0-9a-z-]{1,80}")


def read_opened_tunes(folder: Path) -> frozenset[str]:
    """The names of the entries that the player of this folder opened at least once; empty where nothing was kept or
    can be read.
    """
    return frozenset(read_ids(folder / _FILE, _NAME))


def add_opened_tune(name: str, folder: Path) -> None:
    """Note that the player of this folder opened an entry. A disk that refuses changes nothing else: the tune is read
    all the same.
    """
    kept = read_ids(folder / _FILE, _NAME)
    if name not in kept:
        write_ids(folder / _FILE, (*kept, name))
