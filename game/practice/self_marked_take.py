"""Takes on an ordinary guitar that nothing listens to: the player says of each note whether it was right.

Kept in the log as self-marked, and trusted less by the coach. Wrong notes have no cause, for nobody heard them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from game.coach.stages import Stage
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.verdicts import Cause, Judgement, NoteVerdict, Verdict
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.practice.finished_take import FinishedTake
from game.practice.take_recorder import NULL_RECORDER, TakeRecorder


@dataclass
class SelfMarkedTake:
    """The `places` stage without a pickup: play the note, have its name and place shown, say whether it was right."""

    passage: Passage
    neck_map: NeckMap
    now_s: float
    at: int = 0
    revealed: bool = False
    said: list[NoteVerdict] = field(default_factory=list)
    recorder: TakeRecorder = NULL_RECORDER

    def __post_init__(self) -> None:
        self.expected: tuple[ExpectedNote, ...] = expected_notes(self.passage.notes, self.neck_map)
        self._asked_s = self.now_s
        self._found_ms = 0.0

    @property
    def asked(self) -> ExpectedNote | None:
        """The note to be played now, None at the end."""
        return self.expected[self.at] if self.at < len(self.expected) else None

    def reveal(self, now_s: float) -> None:
        """Show name and place; the search for the note ends here."""
        if self.asked is not None and not self.revealed:
            self.revealed = True
            self._found_ms = (now_s - self._asked_s) * 1000

    def mark(self, *, right: bool, now_s: float) -> NoteVerdict | None:
        """The player's word on the revealed note; None before it was revealed."""
        asked = self.asked
        if asked is None or not self.revealed:
            return None
        self.recorder.said(asked.n, said_right=right, at_s=now_s)
        verdict = marked_verdict(asked, right=right, time_to_find_ms=self._found_ms if right else None)
        self.said.append(verdict)
        self.at, self.revealed, self._asked_s = self.at + 1, False, now_s
        return verdict

    def take_back_right(self, now_s: float) -> bool:
        """The note marked last was wrong after all: whether it had been said to be right, and now is not."""
        if not self.said or self.said[-1].verdict is not Verdict.CLEAN:
            return False
        last = self.expected[self.at - 1]
        self.recorder.said(last.n, said_right=False, at_s=now_s)
        self.said[-1] = marked_verdict(last, right=False)
        return True

    def end(self) -> FinishedTake:
        """The take is over."""
        finished = self.so_far()
        self.recorder.ended(finished)
        return finished

    def so_far(self) -> FinishedTake:
        """The take as far as it went."""
        rest = [NoteVerdict(n=note.n, verdict=Verdict.UNREAD) for note in self.expected[self.at :]]
        judgement = Judgement(verdicts=(*self.said, *rest))
        return FinishedTake(passage=self.passage, expected=self.expected, judgement=judgement)


def marked_verdict(note: ExpectedNote, *, right: bool, time_to_find_ms: float | None = None) -> NoteVerdict:
    """What the player said of a note."""
    return NoteVerdict(
        n=note.n,
        verdict=Verdict.CLEAN if right else Verdict.WRONG_PITCH,
        cause=None if right else Cause.UNKNOWN,
        time_to_find_ms=time_to_find_ms,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RhythmTerms:
    """What a take in rhythm was played by: the stage, and the tempo in the metre's own beat, None without a clock."""

    stage: Stage
    tempo_bpm: float | None


def marked_afterwards(
    passage: Passage,
    neck_map: NeckMap,
    terms: RhythmTerms,
    right: Mapping[int, bool],
    *,
    now_s: float,
    recorder: TakeRecorder = NULL_RECORDER,
) -> FinishedTake:
    """A take in rhythm that the player marked when it was over; `right` by number of note."""
    expected = expected_notes(passage.notes, neck_map)
    for n, said_right in right.items():
        recorder.said(n, said_right=said_right, at_s=now_s)
    verdicts: Iterable[NoteVerdict] = (marked_verdict(note, right=right[note.n]) for note in expected)
    judgement = Judgement(verdicts=tuple(verdicts))
    finished = FinishedTake(
        passage=passage, expected=expected, judgement=judgement, stage=terms.stage, tempo_bpm=terms.tempo_bpm
    )
    recorder.ended(finished)
    return finished
