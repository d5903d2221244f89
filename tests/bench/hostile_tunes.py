"""What tune files cost that nobody of good will would hand over: `python -m tests.bench.hostile_tunes [NAME...]`.

Each is added to a library of its own, by one reading process as far as they leave it alive. Target: one sentence or a
tune, under 30 s of processor time and 500 MB there, under 50 ms here. The reference is a good file of the same run, and
what it costs after each: a process that was ended must leave the next file unharmed.
"""

import sys
import tempfile
from pathlib import Path

from game.paths import shipped
from game.text.catalogue import tell
from game.tunes.library.adding import Adder
from game.tunes.library.import_results import Added, NotAdded
from tests.bench.process_costs import measured
from tests.tunes.hostile_tunes import HOSTILE_TUNES

MOST_S, MOST_MB, MOST_HERE_S = 30.0, 500.0, 0.05


def main() -> int:
    wanted = sys.argv[1:] or list(HOSTILE_TUNES)
    folder = Path(tempfile.mkdtemp())
    good = shipped("content", "tunes") / "01-au-clair-de-la-lune.musicxml"
    faults = 0
    with Adder(folder=folder / "library") as adder:
        _cost(adder, good, "a good file, first")
        _cost(adder, good, "a good file")
        for name in wanted:
            path = folder / name
            path.write_bytes(HOSTILE_TUNES[name]())
            faults += not _cost(adder, path, name)
            path.unlink()
        faults += not _cost(adder, good, "a good file, last")
    print(f"{faults} of {len(wanted)} beyond the target (0)")
    return 1 if faults else 0


def _cost(adder: Adder, path: Path, name: str) -> bool:
    with measured(adder._process) as costs:
        came = next(iter(adder.added(path, 1)))
    print(
        f"{name:44} here {costs.here_s * 1000:6.1f} ms, there {costs.there_s:6.2f} s {costs.there_mb:5.0f} MB ",
        _said(came),
        flush=True,
    )
    return costs.here_s < MOST_HERE_S and costs.there_s < MOST_S and costs.there_mb < MOST_MB


def _said(came: Added | NotAdded) -> str:
    return f"read: {came.entry.bars} bars" if isinstance(came, Added) else tell(came.fault)[:90]


if __name__ == "__main__":
    sys.exit(main())
