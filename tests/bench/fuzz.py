"""Mutated tune files of each kind, read as the commands read them:
`python -m tests.bench.fuzz [--count N] [--seed N] [--kind KIND]`.

Each goes through `homefret score`, which asks one reading process for all of them. Target: exit 0 or 2 and one line,
under 30 s of processor time and 500 MB, this side of the pipe under 50 ms until the answer is there. The reference is a
good file of the kind, read in the same run.
"""

import argparse
import contextlib
import io
import random
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from unittest import mock

from game.commands import score_command
from game.commands.main import main as homefret
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.bench.process_costs import Costs, measured
from tests.tunes.fuzzing import KINDS, mutated, seeds

MOST_S, MOST_MB, MOST_HERE_S = 30.0, 500.0, 0.05


@dataclass
class Tally:
    """What came of the files of a kind."""

    read: int = 0
    refused: int = 0
    longest_s: float = 0.0
    largest_mb: float = 0.0
    here_s: list[float] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def count(self, status: int, out: str, err: str, costs: Costs) -> None:
        """Count a file in."""
        self.read += status == 0
        self.refused += status == 2
        self.longest_s = max(self.longest_s, costs.there_s)
        self.largest_mb = max(self.largest_mb, costs.there_mb)
        self.here_s.append(costs.here_s)
        told = (out and not err) if status == 0 else (not out and err.count("\n") == 1)
        if status not in (0, 2) or not told:
            self.faults.append(f"exit {status}: {err[:300]!r}")
        if costs.there_s > MOST_S or costs.there_mb > MOST_MB or costs.here_s > MOST_HERE_S:
            self.faults.append(f"{costs}: {err[:100]!r}")


def tally(kind: str, count: int, seed: int, path: Path) -> Tally:
    """Read so many mutated files of a kind."""
    rng, good, told = random.Random(f"{kind} {seed}"), seeds(kind), Tally()
    with ReadingProcess() as process:
        for number in range(-len(good), count):
            content = good[number] if number < 0 else mutated(rng.choice(good), rng, good, kind)
            path.write_bytes(content)
            status, out, err, costs = scored(path, process)
            if number < 0:
                print(f"{kind:9} a good file: {costs.there_s * 1000:.0f} ms there, {costs.here_s * 1000:.1f} ms here")
                continue
            before = len(told.faults)
            told.count(status, out, err, costs)
            if len(told.faults) > before:
                kept = path.with_name(f"fault-{kind}-{seed}-{number}")
                kept.write_bytes(path.read_bytes())
                print(f"FAULT {kind}, seed {seed}, number {number}: {told.faults[-1]} {kept}", flush=True)
    return told


def scored(path: Path, process: ReadingProcess) -> tuple[int, str, str, Costs]:
    """What the command says of a file, and what it cost until the answer was there."""
    costs = Costs()

    def reading(file, **choices):
        with measured(process) as of_this:
            try:
                return read_tune(file, process=process, **choices)
            finally:
                reading.costs = of_this

    reading.costs = costs
    out, err = io.StringIO(), io.StringIO()
    with (
        mock.patch.object(score_command, "read_tune", reading),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            status = homefret(["score", str(path), "--part", "1", "--json"])
        except SystemExit as ended:
            status = int(ended.code or 0)
        except Exception as fault:  # noqa: BLE001 - what a command dies of is the finding
            status, err = 1, io.StringIO(f"{type(fault).__name__}: {fault}")
    return status, out.getvalue(), err.getvalue(), reading.costs


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=2_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", choices=KINDS)
    args = parser.parse_args()
    faults = 0
    for kind in [args.kind] if args.kind else KINDS:
        told = tally(kind, args.count, args.seed, Path(tempfile.mkdtemp()) / "tune")
        here = sorted(told.here_s)
        print(
            f"{kind:9} {told.read:6} read {told.refused:6} refused; there longest {told.longest_s:.2f} s, largest"
            f" {told.largest_mb:.0f} MB; here {here[len(here) // 2] * 1000:.1f} ms, most {here[-1] * 1000:.1f} ms",
            flush=True,
        )
        faults += len(told.faults)
    print(f"{faults} faults (target 0)")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
