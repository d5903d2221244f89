"""How far the player of a take against the click has come, and which written notes still wait for an answer.

Read off the live verdicts, which may change: what is surely complete is told apart from what only may be.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.verdicts import COUNTS_AS_CLEAN, NoteVerdict, Verdict

# So many notes right in a row at the end are no chance.
_SURELY_READ = 4
_READ = COUNTS_AS_CLEAN | {Verdict.UNSURE}


@dataclass(frozen=True, slots=True, kw_only=True)
class OwedNotes:
    """What is asked for, what is `shown` of it by number of note, the latest note that was played, and `reading_at`,
    the index of the written note that the player comes to next. `pitch_counts` is false in the rhythm alone.
    """

    expected: Sequence[ExpectedNote]
    shown: Mapping[int, NoteVerdict]
    latest: PlayedNote | None
    reading_at: int
    pitch_counts: bool

    @property
    def answered(self) -> int:
        """The number of the farthest note that was answered, 0 for none."""
        return max((n for n, verdict in self.shown.items() if verdict.answers), default=0)

    @property
    def next_at(self) -> int:
        """The index of the note that is owed next; of the last one where none is."""
        return min(self.answered, len(self.expected) - 1)

    @property
    def owed(self) -> bool:
        """Whether written notes still wait for an answer: the last one was not reached, or the player went back to
        read it better.
        """
        if self.complete_s is not None or self._last_came_late:
            return False
        return min(self.answered, self.reading_at) < len(self.expected)

    @property
    def complete_s(self) -> float | None:
        """When the last written note was answered, where the last few were right one after another, or could not be
        told: what is played from then on is no part of the reading. One that was right by itself may be a chance of
        somebody who is behind.
        """
        last = [self.shown.get(note.n) for note in self.expected[-_SURELY_READ:]]
        times_s = [one.answers[-1].started_s for one in last if one is not None and one.verdict in _READ]
        return times_s[-1] if len(times_s) == len(last) and times_s == sorted(times_s) else None

    @property
    def _last_came_late(self) -> bool:
        """Whether the last written note alone is owed, and what was played since may be it: after a long search it can
        only be guessed, but there is nothing more to wait for.
        """
        last = self.expected[-1]
        before = self.shown.get(last.n - 1)
        if self.answered != len(self.expected) - 1 or before is None or self.latest is None:
            return False
        since = self.latest.started_s > before.answers[-1].started_s
        return since and (not self.pitch_counts or self.latest.sounding == last.sounding)
