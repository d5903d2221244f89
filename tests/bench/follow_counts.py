"""What the judge loses of the takes of many players, counted cell by cell, and a line of the table."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.bench.follow_measures import Measure
from tests.judging.players.cells import Cell


@dataclass(slots=True, kw_only=True)
class Counted:
    """Of one cell: what was lost of how much, and the seeds with losses."""

    cell: str
    lost: int = 0
    whole: int = 0
    strict: int = 0
    seeds: list[tuple[int, int]] = field(default_factory=list)

    @property
    def share(self) -> float:
        return self.lost / self.whole if self.whole else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    seeds: int
    quick: bool
    worst: int


def over(cells: Sequence[Cell], measure: Measure, seeds: int) -> list[Counted]:
    """Each cell measured over so many seeds."""
    found = []
    for cell in cells:
        counted = Counted(cell=cell.name)
        for seed in range(seeds):
            lost, whole, strict = measure(cell.performance(seed))
            counted.lost += lost
            counted.whole += whole
            counted.strict += strict
            if lost:
                counted.seeds.append((seed, lost))
        found.append(counted)
    return found


def told(
    what: str, found: Sequence[Counted], options: Options, *, mean: float | None, worst: float | None = None
) -> None:
    """A line of the table: shares that are lost, or kept where the target is one of those."""
    lost, whole = sum(row.lost for row in found), sum(row.whole for row in found)
    strict = sum(row.strict for row in found)
    share = lost / max(whole, 1)
    most = max(found, key=lambda row: row.share)
    high = mean is not None and mean > 0.5
    shown, strictly = (1 - share, 1 - strict / max(whole, 1)) if high else (share, strict / max(whole, 1))
    met = mean is None or (shown >= mean if high else shown <= mean)
    met = met and (worst is None or most.share <= worst)
    target = "no target" if mean is None else f"target {mean:g}" + (f", worst {worst:g}" if worst is not None else "")
    word = "" if mean is None else "met" if met else "MISSED"
    print(f"{what:66s} {shown:8.5f}  ({target:24s}) {word:6s} of {whole}; strictly {strictly:.5f}")
    shown_rows = sorted((row for row in found if row.lost), key=lambda row: -row.share)[: options.worst]
    for row in shown_rows:
        print(f"      {row.share:.4f} lost in '{row.cell}': seeds {row.seeds[:6]}")
    sys.stdout.flush()
