"""How often a tune of the book is written right when its rhythm is tapped: `python -m tests.bench.entering`.

By hands that are off the click by chance, and lean up to 40 ms; 20 ms is a usual hand, 30 ms an unsteady one (trade).
Reference: a hand that is off by 5 ms.
"""

from functools import partial

from game.tunes.library.library import open_entry, shipped_entries
from tests.tunes.entering.tapped_tunes import Tapped, can_be_tapped, tapped_by_hand

HANDS_S = (0.005, 0.010, 0.015, 0.020, 0.030)
TEMPI_BPM = (60, 80, 100)
LEAN_S = 0.04


def main() -> None:
    tunes = [score for score in map(open_entry, shipped_entries()) if can_be_tapped(score)]
    print(f"{len(tunes)} tunes, swing not looked for\n\nbpm  off by ms  whole tunes  notes right  the worst")
    for bpm in TEMPI_BPM:
        for spread_s in HANDS_S:
            by_hand = partial(tapped_by_hand, bpm=bpm, spread_s=spread_s, lean_s=LEAN_S)
            _row(bpm, spread_s, [by_hand(score, seed) for seed, score in enumerate(tunes)])


def _row(bpm: int, spread_s: float, tapped: list[Tapped]) -> None:
    worst = max(tapped, key=lambda one: one.notes - one.right)
    share = sum(one.right for one in tapped) / sum(one.notes for one in tapped)
    missed = f"{worst.notes - worst.right} of {worst.notes}, {worst.title}"
    print(f"{bpm:3}  {1000 * spread_s:9.0f}  {sum(one.whole for one in tapped):11}  {share:11.2%}  {missed}")


if __name__ == "__main__":
    main()
