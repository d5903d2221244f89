"""The pages of a tune that was corrected since: to its players they are the same ones, whatever stands there now."""

from collections.abc import Iterator
from typing import NamedTuple

from game.music.passage import Passage, passages_of, whole_tune
from game.music.score import Score
from game.practice_log.rows.passage_key import passage_key


class CorrectedPage(NamedTuple):
    """Bars as they stood before, and as they stand now."""

    was: Passage
    is_now: Passage


def corrected_pages(before: Score, now: Score) -> Iterator[CorrectedPage]:
    """The pages in which something was corrected, and the whole tune. Both scores are written out, bar for bar the
    same; a page that is no page of the other is passed over.
    """
    by_bars = {(page.start, page.stop): page for page in (*passages_of(before), whole_tune(before))}
    for page in (*passages_of(now), whole_tune(now)):
        was = by_bars.get((page.start, page.stop))
        if was is not None and passage_key(was) != passage_key(page):
            yield CorrectedPage(was, page)
