"""Logs as they were before every entry had a key of its own, laid out in a folder, and what was known of each then.

`make_old_logs` tells what each holds.
"""

import json
import lzma
import tarfile
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
NAMES = ("two_weeks", "first_computer", "third_computer", "interrupted", "damaged")
LOG = "practice.sqlite"

FACTS: dict[str, Any] = json.loads((HERE / "facts.json").read_text(encoding="utf-8"))
"""Of each log, by its name: devices, takes, days, players. Of a take: device, number, beginning, tune, stage, tempo,
sighting, notes played, outcome.
"""


def known_then(name: str, player: str) -> Any:
    """What that day's program made of a player's part of a log: the states of `coach` and `notes` as they lie in a
    file. The player "as one" of `third_computer` played all of it.
    """
    return json.loads(lzma.decompress((HERE / "known.json.xz").read_bytes()))[f"{name} {player}"]


def unpacked(name: str, folder: Path) -> Path:
    """The files of one of these logs, laid into a folder, which is returned."""
    with tarfile.open(HERE / f"{name}.tar.xz") as archive:
        # The first releases of Python 3.11 have no filters, and no warning that one is missing; the archives are ours.
        archive.extractall(folder, **({"filter": "data"} if hasattr(tarfile, "data_filter") else {}))
    return folder
