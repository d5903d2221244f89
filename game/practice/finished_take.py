"""A take that is over: what was asked, what was made of it, and the figures."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.letters import NamedNote
from game.judging.summary import Summary, summary_of
from game.judging.verdicts import COUNTS_AS_CLEAN, Judgement, NoteVerdict, Verdict
from game.music.passage import Passage
from game.music.written import HeadId
from game.neck.neck_map import NeckMap

_MOST_OWED = 4
# A note that was heard has answers with these verdicts.
_SAID = frozenset((Verdict.CLEAN, Verdict.WRONG_PITCH))


def clean_heads(expected: Sequence[ExpectedNote], verdicts: Iterable[NoteVerdict]) -> frozenset[HeadId]:
    """All noteheads, tied ones too, of the notes whose pitch and place were clean."""
    by_n = {note.n: note.note for note in expected}
    return frozenset(
        head for verdict in verdicts if verdict.verdict in COUNTS_AS_CLEAN for head in by_n[verdict.n].heads
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownOtherwise:
    """How many notes the page showed as wrong that were right, and as right that were wrong: while a take is played it
    can only guess which note was meant.
    """

    right: int = 0
    wrong: int = 0


NONE_OTHERWISE = ShownOtherwise()


def shown_otherwise(shown: Mapping[int, bool], final: Iterable[NoteVerdict]) -> ShownOtherwise:
    """What turned at the end; `shown` says of each note the page told of, by its number, whether as right. What could
    not be told at the end was shown neither rightly nor wrongly.
    """
    turned = Counter(
        verdict.verdict in COUNTS_AS_CLEAN
        for verdict in final
        if verdict.n in shown
        and verdict.verdict is not Verdict.UNSURE
        and shown[verdict.n] is not (verdict.verdict in COUNTS_AS_CLEAN)
    )
    return ShownOtherwise(right=turned[True], wrong=turned[False])


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishedTake:
    """A take of a passage, judged as a whole.

    `tempo_bpm` is in the metre's own beat, None without a metronome; `usual_bpm` is the player's own tempo in free
    time, in quarter notes a minute. `swing` is the player's own long:short, None where nothing swings. `played` are
    the notes as they were judged. `shown_otherwise` counts those of which the page said otherwise while they were read.
    `free_on` is the map of a take in free reading: no note has a home, and any place on the neck was right.
    """

    passage: Passage
    expected: tuple[ExpectedNote, ...]
    judgement: Judgement
    stage: Stage = Stage.PLACES
    tempo_bpm: float | None = None
    usual_bpm: float | None = None
    swing: float | None = None
    played: tuple[PlayedNote, ...] = ()
    shown_otherwise: ShownOtherwise = NONE_OTHERWISE
    settling: bool = False
    free_on: NeckMap | None = None

    @property
    def free_reading(self) -> bool:
        """Whether any place of a note was right."""
        return self.free_on is not None

    @property
    def timed(self) -> bool:
        """Whether rhythm was asked for."""
        return self.stage.rhythm_counts

    @property
    def by_own_word(self) -> bool:
        """Whether nothing was heard, and its player said what was right."""
        verdicts = self.judgement.verdicts
        return any(one.verdict in _SAID for one in verdicts) and not any(one.answers for one in verdicts)

    @property
    def summary(self) -> Summary:
        """The take in figures."""
        return summary_of(self.judgement, self.expected, free_on=self.free_on)

    @property
    def note_count(self) -> int:
        """How many notes the passage has."""
        return len(self.expected)

    @property
    def clean_heads(self) -> frozenset[HeadId]:
        """All noteheads of the notes read clean, tied ones too."""
        return clean_heads(self.expected, self.judgement.verdicts)

    @property
    def read_count(self) -> int:
        """How many notes were read before the take ended."""
        return sum(verdict.verdict is not Verdict.UNREAD for verdict in self.judgement.verdicts)

    @property
    def clean_count(self) -> int:
        """How many of those asked were right, in pitch and place; being early or late is told apart."""
        return self.summary.right_notes

    @property
    def slowest(self) -> NoteVerdict | None:
        """The clean note that took longest to find, the first one apart: nobody knows when its search began."""
        found = [
            verdict
            for verdict in self.judgement.verdicts[1:]
            if verdict.time_to_find_ms is not None and verdict.verdict is Verdict.CLEAN
        ]
        return max(found, key=lambda verdict: verdict.time_to_find_ms or 0.0, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishedNaming:
    """A line of music named to its end, or as far as it went."""

    passage: Passage
    named: tuple[NamedNote, ...]

    @property
    def note_count(self) -> int:
        """How many notes the line has."""
        return len(self.named)

    @property
    def clean_heads(self) -> frozenset[HeadId]:
        """All noteheads of the notes named at the first try."""
        clean = {item.n for item in self.named if item.verdict is Verdict.CLEAN}
        return frozenset(head for note in self.passage.notes if note.n in clean for head in note.heads)

    @property
    def read_count(self) -> int:
        """How many notes were named."""
        return sum(note.verdict is not Verdict.UNREAD for note in self.named)

    @property
    def clean_count(self) -> int:
        """How many of them at the first try and without help."""
        return sum(note.verdict is Verdict.CLEAN for note in self.named)


Finished = FinishedTake | FinishedNaming


def owed_soundings(finished: Finished) -> tuple[int, ...]:
    """The pitches of a timed take that were still to come when it ended, though its player went nearly to the end: at
    most the last four, and none of a take that was left or in which nothing was answered.
    """
    if not isinstance(finished, FinishedTake) or not finished.timed:
        return ()
    verdicts = finished.judgement.verdicts
    answered = max((verdict.n for verdict in verdicts if verdict.answers), default=0)
    owed = tuple(note.sounding for note in finished.expected if note.n > answered)
    return owed if answered and len(owed) <= _MOST_OWED else ()
