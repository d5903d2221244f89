"""The bars in which a take fell apart, where it was a few of them and not the whole."""

from collections import Counter

from game.judging.verdicts import Verdict
from game.practice.finished_take import FinishedTake

MOST_BARS = 2
"""So many bars are practised apart at most."""
LEAST_WRONG = 2
MOST_OF_THEM = 2 / 3
"""So many of the wrong notes must stand in those bars (ours): else it was not they."""


def failed_bars(finished: FinishedTake) -> tuple[int, int] | None:
    """The first and the last of the bars that failed, counted from 0 within the passage: one bar, or two in a row, and
    at most half of all. None where the wrong and missed notes lie everywhere, or are too few to tell.
    """
    wrong = Counter(
        finished.expected[verdict.n - 1].note.heads[0].bar
        for verdict in finished.judgement.verdicts
        if verdict.verdict in (Verdict.WRONG_PITCH, Verdict.MISSED)
    )
    total, bars = wrong.total(), len(finished.passage.bars)
    if total < LEAST_WRONG:
        return None
    for length in range(1, min(MOST_BARS, bars // 2) + 1):
        starts = range(bars - length + 1)
        start = max(starts, key=lambda first: sum(wrong[bar] for bar in range(first, first + length)))
        if sum(wrong[bar] for bar in range(start, start + length)) >= MOST_OF_THEM * total:
            return start, start + length - 1
    return None
