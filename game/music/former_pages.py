"""The pages of a tune as they were until the end of November 2026, when it was cut every four bars: by these names old
logs know what was practised.
"""

from game.music.passage import PASSAGE_BARS, Passage, passages_between
from game.music.score import Score


def former_pages(score: Score) -> list[Passage]:
    """A written-out score cut every four bars. A pickup bar goes with the bars after it; one bar left at the end goes
    with the page before. Those that come again, as when a repeat is written out, stand here each time.
    """
    starts = list(range(1 if score.bars[0].pickup else 0, len(score.bars), PASSAGE_BARS)) or [0]
    starts[0] = 0
    if len(starts) > 1 and len(score.bars) - starts[-1] < PASSAGE_BARS / 2:
        starts.pop()
    stops = [*starts[1:], len(score.bars)]
    return passages_between(score, list(zip(starts, stops, strict=True)))
