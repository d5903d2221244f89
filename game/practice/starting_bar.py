"""The bar at which a take against the click begins, or goes on once it was paused, and what its first note is."""

from collections.abc import Sequence
from dataclasses import dataclass

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.practice.take_request import TakeRequest
from game.practice.timed_take import TimedTake

# Nobody who comes in with the first note is as early, and fewer clicks are so close to it.
_BEFORE_FIRST_S = 0.4


@dataclass(frozen=True, slots=True)
class StartingBar:
    """`index` is that of a bar of the passage, 0 for its beginning."""

    request: TakeRequest
    index: int = 0

    def at(self, index: int) -> "StartingBar":
        """Another bar, the first or the last for one outside of the passage. Where each note has a click there are no
        bars to go on from: it begins again.
        """
        last = 0 if self.request.one_a_click else len(self.request.passage.bars) - 1
        return StartingBar(self.request, min(max(0, index), last))

    @property
    def number(self) -> str:
        """Its number as printed."""
        return self.request.passage.bars[self.index].number

    @property
    def quarters(self) -> float:
        """Where it begins, in quarter notes from the beginning of the passage."""
        return float(sum(bar.length for bar in self.request.passage.bars[: self.index]))

    def is_begun_by(self, played: PlayedNote, expected: Sequence[ExpectedNote]) -> bool:
        """Whether a note is the first from this bar on, at its home; any note where pitch does not count."""
        if not self.request.stage.pitch_counts:
            return True
        first = next((note for note in expected if note.note.heads[0].bar >= self.index), expected[0])
        at_home = played.place is None or first.home is None or played.place == first.home.place
        return played.sounding == first.sounding and at_home

    def is_count_in(self, played: PlayedNote, take: TimedTake) -> bool:
        """Whether a note was heard well before there was one to be played: what sounds then is the count-in, or the
        note that began it and rings on. Only of what a microphone heard.
        """
        if not played.heard or take.zero_s is None or take.heard_anything:
            return False
        return take.seconds(played.started_s) < self.quarters * take.quarter_s - _BEFORE_FIRST_S
