"""One player on several devices, in many interleavings: `python -m tests.bench.devices [--many N] [--seed N]`.

Each is played on 2, 3 or 5 devices, with gathering, new starts and copies between by chance. All that is folded
(coach, notes, sightings, marks, sums) is held against one computer that played the same in order of time: of what is
gathered, of each device in the end, and of what was kept up live. Prints what differs, and at the end how many did.
"""

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.practice_log.devices import differences

SIZES = (2, 3, 5)


def main() -> int:
    """Print the table; 1 where anything differed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--many", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    told: Counter[str] = Counter()
    for seed in range(asked.seed, asked.seed + asked.many):
        devices = SIZES[seed % len(SIZES)]
        with tempfile.TemporaryDirectory() as folder:
            faults = differences(seed, devices, Path(folder))
        told["differ" if faults else "equal"] += 1
        if faults:
            print(f"seed {seed}, {devices} devices: {sorted(set(faults))}", flush=True)
    print(f"{asked.many} interleavings on {SIZES} devices: {told['equal']} equal, {told['differ']} differ")
    return 1 if told["differ"] else 0


if __name__ == "__main__":
    sys.exit(main())
