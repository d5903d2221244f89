"""Ten thousand mutated files of each kind: `python -m tests.bench.fuzz [--count N] [--seed N] [--kind KIND]`.

Each is read in a child forked from a process that has music21 loaded, under the limits of the reading process. Target:
no fault (every file is read or refused in one sentence), no child near 30 s or 1 GB.
"""

import argparse
import subprocess
import sys
from pathlib import Path

import msgspec

from tests.tunes.fuzzing import KINDS

ROOT = Path(__file__).parents[2]
PORTION = 1_000


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", choices=KINDS)
    args = parser.parse_args()
    faults = 0
    for kind in [args.kind] if args.kind else KINDS:
        read = refused = 0
        worst_s, worst_mb = 0.0, 0
        for portion in range(-(-args.count // PORTION)):
            count = min(PORTION, args.count - portion * PORTION)
            command = [sys.executable, "-m", "tests.tunes.fuzzing", kind, str(count), f"{args.seed + portion}"]
            done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
            told = msgspec.json.decode(done.stdout)
            read, refused = read + told["read"], refused + told["refused"]
            worst_s, worst_mb = max(worst_s, told["worst_s"]), max(worst_mb, told["worst_mb"])
            faults += len(told["faults"])
            for fault in told["faults"]:
                print(f"FAULT {kind}, seed {args.seed + portion}: {fault}\n{done.stderr}")
        print(f"{kind:9} {read:6} read {refused:6} refused, longest {worst_s:.2f} s, largest {worst_mb} MB")
    print(f"{faults} faults (target 0)")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
