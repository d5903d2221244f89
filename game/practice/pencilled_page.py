"""What the page has shown of a timed take while it is played: a mark that turns is not left to flicker."""

from collections import Counter
from collections.abc import Iterable

from game.judging.expected import ExpectedNote
from game.judging.verdicts import COUNTS_AS_CLEAN, NoteVerdict, Verdict


class PencilledPage:
    """The page of one take. `shown_right` says of each note that was told of, by its number, whether as right."""

    def __init__(self) -> None:
        self.shown_right: dict[int, bool] = {}
        self._turned: Counter[int] = Counter()

    def to_pencil(
        self, judged: Iterable[tuple[ExpectedNote, NoteVerdict]], *, farthest: int
    ) -> list[tuple[ExpectedNote, NoteVerdict]]:
        """Those of the notes that can be told of now; `farthest` is the number of the farthest that was answered.

        Nobody has missed what lies before them: a note is missed when a later one was played. A verdict that has
        turned and turns back is not told before the end.
        """
        told = []
        for note, verdict in judged:
            if verdict.verdict is Verdict.MISSED and note.n > farthest:
                continue
            if verdict.verdict is Verdict.UNSURE:
                # Neither right nor wrong: whatever is said of it later turns nothing round.
                told.append((note, verdict))
                continue
            right = verdict.verdict in COUNTS_AS_CLEAN
            if self.shown_right.setdefault(note.n, right) is not right:
                self.shown_right[note.n] = right
                self._turned[note.n] += 1
            if self._turned[note.n] <= 1:
                told.append((note, verdict))
        return told
