"""Where the notes of a tune's pages stood before it was cut as its phrases fall: by that what the former pages earned
goes over to them.
"""

from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from game.coach.events import FormerPage, PageCutAnew
from game.music.former_pages import former_pages
from game.music.passage import Passage, whole_tune
from game.music.score import Score
from game.practice_log.rows.passage_key import passage_key


class NewPages(NamedTuple):
    """What is to be said of the pages of a tune that are others than before, and the former pages by their names, those
    that are pages no more.
    """

    said: tuple[PageCutAnew, ...] = ()
    former: tuple[tuple[str, Passage], ...] = ()


def new_pages(score: Score, pages: Sequence[tuple[str, Passage]]) -> NewPages:
    """Of a written-out tune with its pages by their names. A page that is as before is not told of."""
    before = former_pages(score)
    same = {(page.start, page.stop) for page in before}
    if all((page.start, page.stop) in same for _, page in pages):
        return NewPages()
    named = [(passage_key(page), page) for page in before]
    still, former_names = {name for name, _ in pages}, {name for name, _ in named}
    numbers = _Numbers(score)
    said = (
        PageCutAnew(is_now=name, former=_former(page, named, numbers))
        for name, page in pages
        if name not in former_names
    )
    return NewPages(tuple(said), tuple((name, page) for name, page in named if name not in still))


def _former(page: Passage, before: Sequence[tuple[str, Passage]], numbers: "_Numbers") -> tuple[FormerPage, ...]:
    """Where the notes of a page stood; at first where most of them did."""
    found = []
    for name, one in before:
        start, stop = max(page.start, one.start), min(page.stop, one.stop)
        if start < stop:
            first, last = 1 + numbers.count(page.start, start), numbers.count(page.start, stop)
            shift = numbers.struck_from(one, start) - numbers.struck_from(page, start)
            if first <= last:
                found.append(FormerPage(name=name, first=first, last=last, shift=shift))
    return tuple(sorted(found, key=lambda part: part.first - part.last))


class _Numbers:
    """The numbers that the notes of a tune have on its pages. A note that is tied into the first bar of a page is
    struck there.
    """

    def __init__(self, score: Score) -> None:
        struck = [0] * len(score.bars)
        self._tied_into: set[int] = set()
        for note in whole_tune(score).notes:
            struck[note.heads[0].bar] += 1
            self._tied_into.update(head.bar for head in note.heads if head.bar > note.heads[0].bar)
        self._struck_before = [0, *accumulate(struck)]

    def count(self, start: int, stop: int) -> int:
        """How many notes bars have, as a page that begins with `start`."""
        tied = start < stop and start in self._tied_into
        return self._struck_before[stop] - self._struck_before[start] + tied

    def struck_from(self, page: Passage, bar: int) -> int:
        """The number on a page of the first note that is struck from a bar on, one that is tied into it left out."""
        tied = bar == page.start and bar in self._tied_into
        return 1 + tied + self.count(page.start, bar)
