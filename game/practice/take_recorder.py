"""Where a take under way is written down as it goes: in the log (`game.player.player_log`), or nowhere."""

from typing import Protocol

from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.music.names import Spelling
from game.practice.finished_take import Finished


class TakeRecorder(Protocol):
    """One take being written down. Every call returns at once."""

    def played(self, note: PlayedNote) -> None:
        """A note came."""
        ...

    def revised(self, before: PlayedNote, after: PlayedNote | None) -> None:
        """A note that came turned out to be another, or none."""
        ...

    def helped(self, n: int, step: HintStep, *, at_s: float) -> None:
        """Help was given with note `n`."""
        ...

    def named(self, n: int, name: Spelling, *, at_s: float) -> None:
        """A name was given for note `n`."""
        ...

    def said(self, n: int, *, said_right: bool, at_s: float) -> None:
        """The player's own word on note `n`."""
        ...

    def ended(self, finished: Finished, *, counted_from_s: float | None = None) -> None:
        """The take is over; `counted_from_s` is the time its answers count from, None for the master clock's."""
        ...


class NullRecorder:
    """A take nobody writes down, as a test or a question of the placing test."""

    def played(self, note: PlayedNote) -> None:
        """Nothing."""

    def revised(self, before: PlayedNote, after: PlayedNote | None) -> None:
        """Nothing."""

    def helped(self, n: int, step: HintStep, *, at_s: float) -> None:
        """Nothing."""

    def named(self, n: int, name: Spelling, *, at_s: float) -> None:
        """Nothing."""

    def said(self, n: int, *, said_right: bool, at_s: float) -> None:
        """Nothing."""

    def ended(self, finished: Finished, *, counted_from_s: float | None = None) -> None:
        """Nothing."""


NULL_RECORDER = NullRecorder()
