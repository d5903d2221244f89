"""The round of a loop that is over by the click, while its player still owes it notes: the last note of a round never
begins the next.
"""

from collections.abc import Callable

from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.player.player_log import LogTakeRecorder
from game.practice.timed_take import TimedTake
from game.screens.routes import ToResult

Ending = Callable[[TimedTake, LogTakeRecorder, float], ToResult | None]


class LateRound:
    """None or one such round; `ending` ends a take at a time. `result` is that of the latest that came to one."""

    def __init__(self, ending: Ending) -> None:
        self._ending = ending
        self._round: tuple[LogTakeRecorder, TimedTake] | None = None
        self.result: ToResult | None = None

    def follow_on(self, recorder: LogTakeRecorder, take: TimedTake, now_s: float) -> None:
        """Another round is over by the click: it waits for what it is owed, and the one before waits no longer."""
        self.end(now_s)
        self._round = recorder, take
        if not (take.heard_anything and take.owed):
            self.end(now_s)

    def end(self, now_s: float) -> None:
        """It waits no longer."""
        if self._round is not None:
            recorder, take = self._round
            self._round = None
            self.result = self._ending(take, recorder, now_s) or self.result

    def tick(self, now_s: float) -> None:
        """Let time pass."""
        if self._round is not None and self._round[1].is_over(now_s):
            self.end(now_s)

    def hear(self, played: PlayedNote, next_zero_s: float, now_s: float) -> bool:
        """Take a note into account where it is of this round; one of the next, whose time 0 is given, ends it."""
        if self._round is None:
            return False
        if self._round[1].claims(played, next_zero_s):
            self._round[1].hear(played)
            return True
        self.end(now_s)
        return False

    def revise(self, event: NoteRevised) -> bool:
        """A note turns out to be another; whether it is of this round."""
        return self._round is not None and self._round[1].revise(event.before, event.after)
