"""What a question to the reading process costs, on both sides of the pipe. Linux: from `/proc`."""

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage

from game.tunes.sandbox.reading_process import ReadingProcess


@dataclass
class Costs:
    """Seconds of processor time, of this process and of the reading process, and how much memory that one took at
    most in its life, in megabytes.
    """

    here_s: float = 0.0
    there_s: float = 0.0
    there_mb: float = 0.0


@contextmanager
def measured(process: ReadingProcess) -> Iterator[Costs]:
    """What is done inside, counted at its end. A process that ended meanwhile is counted by what the system says of
    those that are gone, memory apart.
    """
    costs = Costs()
    here, there = time.process_time(), _running_s(process) + _gone_s()
    try:
        yield costs
    finally:
        costs.here_s = time.process_time() - here
        costs.there_s = _running_s(process) + _gone_s() - there
        costs.there_mb = _largest_mb(process)


def _running_s(process: ReadingProcess) -> float:
    if process.ended:
        return 0.0
    fields = Path(f"/proc/{process._process.pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _gone_s() -> float:
    used = getrusage(RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _largest_mb(process: ReadingProcess) -> float:
    if process.ended:
        return 0.0
    status = Path(f"/proc/{process._process.pid}/status").read_text()
    return int(next(line for line in status.splitlines() if line.startswith("VmHWM:")).split()[1]) / 1024
