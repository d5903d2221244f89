"""The numbers that the notes of a tune have on its pages."""

from itertools import accumulate

from game.music.passage import Passage, whole_tune
from game.music.score import Score


class NoteNumbers:
    """Of a written-out tune. A note that is tied into the first bar of a page is struck there."""

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

    def in_whole(self, page: Passage) -> tuple[int, int]:
        """The numbers of the first and last note of a page among those of the whole tune."""
        stop = self._struck_before[page.stop]
        return 1 + stop - self.count(page.start, page.stop), stop
