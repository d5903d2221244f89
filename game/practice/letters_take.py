"""The `letters` stage under way: a line of music named note by note."""

from game.instrument.decoding.played import PlayedNote
from game.judging.letters import (
    NamedNote,
    NamingTake,
    begin_naming,
    confirm_name,
    finish_naming,
    give_name,
    reveal_name,
)
from game.music.names import Spelling
from game.music.passage import Passage
from game.music.written import WrittenNote
from game.neck.neck_map import NeckMap
from game.practice.finished_take import FinishedNaming
from game.practice.take_recorder import NULL_RECORDER, TakeRecorder


class LettersTake:
    """A passage being named, from its first note. What is said is judged and written down by the one call."""

    def __init__(
        self, passage: Passage, neck_map: NeckMap, *, now_s: float, recorder: TakeRecorder = NULL_RECORDER
    ) -> None:
        self.passage = passage
        self.neck_map = neck_map
        self._take: NamingTake = begin_naming(passage.notes, now_s=now_s)
        self._recorder = recorder

    @property
    def asked(self) -> WrittenNote | None:
        """The note to be named now, None at the end."""
        return self._take.asked

    @property
    def revealed(self) -> bool:
        """Whether the name of the asked note stands on the page."""
        return self._take.revealed

    @property
    def given(self) -> tuple[Spelling, ...]:
        """The wrong names given for the asked note so far."""
        return self._take.given

    @property
    def named(self) -> tuple[NamedNote, ...]:
        """The notes already named, in order."""
        return self._take.named

    @property
    def last_named(self) -> NamedNote | None:
        """The note named last."""
        return self._take.named[-1] if self._take.named else None

    def name(self, given: Spelling, now_s: float) -> NamedNote | None:
        """Give a name; the result so far."""
        if self.asked is not None:
            self._recorder.named(self.asked.n, given, at_s=now_s)
        self._take, result = give_name(self._take, given, now_s=now_s)
        return result

    def hear(self, played: PlayedNote) -> None:
        """A note was played to go on: it names nothing."""
        self._recorder.played(played)

    def reveal(self) -> None:
        """Write the name of the asked note on the page."""
        self._take = reveal_name(self._take)

    def confirm(self, *, said_right: bool, now_s: float) -> NamedNote | None:
        """The player's own word on what was said before the name was revealed."""
        if self.asked is not None and self.revealed:
            self._recorder.said(self.asked.n, said_right=said_right, at_s=now_s)
        self._take, result = confirm_name(self._take, said_right=said_right, now_s=now_s)
        return result

    def end(self) -> FinishedNaming:
        """The line is left."""
        finished = self.so_far()
        self._recorder.ended(finished)
        return finished

    def so_far(self) -> FinishedNaming:
        """The line as far as it was named."""
        return FinishedNaming(passage=self.passage, named=finish_naming(self._take))
