"""How often bars were met before, in whatever passages they stood: a whole tune, its first half, four bars. Pure.

What was met are bars, not passages: a take of the whole tune meets those of each passage, and whoever practised all
passages has met the tune. Bars that a take was broken off before were not met in it.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from game.practice_log.rows.bar_contents import Stretch


class SharedBars(NamedTuple):
    """Bars of a stretch, from the `first` to before `stop` (counted from its own first, 0), that another stretch holds
    too. A take of the other comes to them once it has reached more than `before` bars more than are counted here.
    """

    first: int
    stop: int
    before: int

    def met(self, reached: int) -> range:
        """Those that a take met which reached so many bars of the other stretch."""
        return range(self.first, min(self.stop, reached - self.before))


def shared_bars(asked: Stretch, other: Stretch) -> SharedBars | None:
    """What a stretch shares with another; None for nothing."""
    shared = asked.shared(other)
    if shared is None:
        return None
    return SharedBars(*shared, 0 if asked.bars == other.bars else asked.start - other.start)


def times_met(count: int, takes: Iterable[tuple[SharedBars, Mapping[int, int]]]) -> int:
    """How many takes came to that one of `count` bars that was met most often; 0 when all of them are new.

    `takes` are, by the stretch they asked, the bars it shares and how many takes reached how many bars of it.
    """
    met = [0] * count
    for shared, reached in takes:
        for bars, often in reached.items():
            for bar in shared.met(bars):
                met[bar] += often
    return max(met, default=0)
