"""A recorder that notes down in a list what takes tell it, in order."""

from dataclasses import dataclass, field

from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.music.names import Spelling
from game.practice.finished_take import Finished


@dataclass
class Noted:
    """See `game.practice.take_recorder`."""

    calls: list[tuple[object, ...]] = field(default_factory=list)
    counted_from_s: float | None = None

    @property
    def kinds(self) -> list[object]:
        return [call[0] for call in self.calls]

    def played(self, note: PlayedNote) -> None:
        self.calls.append(("played", note))

    def revised(self, before: PlayedNote, after: PlayedNote | None) -> None:
        self.calls.append(("revised", before, after))

    def helped(self, n: int, step: HintStep, *, at_s: float) -> None:
        self.calls.append(("helped", n, step, at_s))

    def named(self, n: int, name: Spelling, *, at_s: float) -> None:
        self.calls.append(("named", n, name, at_s))

    def said(self, n: int, *, said_right: bool, at_s: float) -> None:
        self.calls.append(("said", n, said_right, at_s))

    def ended(self, finished: Finished, *, counted_from_s: float | None = None) -> None:
        self.calls.append(("ended", finished))
        self.counted_from_s = counted_from_s
