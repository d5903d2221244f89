"""The passage: the bars being practised. About four by default, as its phrases fall; the whole tune if wanted."""

from collections.abc import Sequence
from dataclasses import dataclass

from game.music.phrase_cuts import phrase_cuts
from game.music.score import Bar, Reading, Score
from game.music.written import WrittenNote, written_notes

PASSAGE_BARS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """Bars `start` to `stop` (indices, `stop` not included) of a written-out score.

    Noteheads are numbered within the passage: its page begins with its own first bar.
    """

    score: Score
    start: int
    stop: int

    @property
    def bars(self) -> tuple[Bar, ...]:
        """The bars of the passage."""
        return self.score.bars[self.start : self.stop]

    @property
    def reading(self) -> Reading:
        """The octave the page is read at."""
        return self.score.reading

    @property
    def notes(self) -> tuple[WrittenNote, ...]:
        """Its notes in order, numbered from 1."""
        return written_notes(self.bars, self.reading)

    @property
    def bar_numbers(self) -> tuple[str, str]:
        """The numbers of its first and last bar, as printed."""
        return self.bars[0].number, self.bars[-1].number

    @property
    def said_bars(self) -> tuple[str, str]:
        """The numbers by which its bars are called: a pickup bar has none that anybody says."""
        first = self.bars[1] if self.bars[0].pickup and self.bars[1:] else self.bars[0]
        return first.number, self.bars[-1].number

    @property
    def ends_tune(self) -> bool:
        """Whether the tune ends with it."""
        return self.stop == len(self.score.bars)

    @property
    def whole(self) -> bool:
        """Whether it is the whole tune."""
        return self.start == 0 and self.stop == len(self.score.bars)


def whole_tune(score: Score) -> Passage:
    """All bars of a written-out score as one passage."""
    return Passage(score=score, start=0, stop=len(score.bars))


def passages_of(score: Score, bars: int = PASSAGE_BARS) -> tuple[Passage, ...]:
    """A written-out score cut into passages of about `bars` bars, each with at least one note: where the page divides
    it and the music breathes (`game.music.phrase_cuts`), seldom through a tie.

    A pickup bar goes with the bars after it; a pickup within a bar stays with its bar, which goes with the phrase that
    most of its notes belong to. A passage that is the same on the page as one before it, as when a repeat is written
    out, is left out.
    """
    first_of_page: dict[tuple[Bar, ...], Passage] = {}
    for passage in passages_between(score, phrase_cuts(score.bars, bars)):
        first_of_page.setdefault(passage.bars, passage)
    return tuple(first_of_page.values())


def passages_between(score: Score, cuts: Sequence[tuple[int, int]]) -> list[Passage]:
    """The passages from and to these bars, in order and without a gap. Those without a note are joined to the one
    before, or to the one after at the beginning.
    """
    passages: list[Passage] = []
    pending_start: int | None = None
    for start, stop in cuts:
        begin = start if pending_start is None else pending_start
        if any(bar.notes for bar in score.bars[begin:stop]):
            passages.append(Passage(score=score, start=begin, stop=stop))
            pending_start = None
        elif passages:
            passages[-1] = Passage(score=score, start=passages[-1].start, stop=stop)
        else:
            pending_start = begin
    return passages
