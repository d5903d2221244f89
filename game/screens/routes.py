"""Where a screen may lead. Screens name the place; the app builds what stands there."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.message import Message
from game.music.at_reading import at_reading
from game.music.passage import Passage, passages_of, whole_tune
from game.music.score import Score
from game.music.written import written_out
from game.neck.neck_map import NeckMap

if TYPE_CHECKING:
    from game.assignments.assignment import AssignedLines, AssignedTune
    from game.coach.decisions import Decision
    from game.coach.placing.placing_test import PlacingTest
    from game.practice.finished_take import Finished
    from game.tunes.library.library import ShelfEntry


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeRequest:
    """A tune on the desk: its passages, which of them is at hand, and what is asked.

    `fresh` when it is a line made just now, `planned` when it is a step of today's plan.
    `tempo_bpm` is in the metre's own beat, None without a metronome.
    `one_a_click` gives each written note a click, rhythm ignored. `reason` is why it is asked, in the coach's words.
    """

    score: Score
    neck_map: NeckMap
    passages: tuple[Passage, ...]
    index: int = 0
    stage: Stage = Stage.PLACES
    pulse: Pulse = Pulse.FREE
    tempo_bpm: int | None = None
    one_a_click: bool = False
    settling: bool = False
    looping: bool = False
    reason: tuple[Message, ...] = ()
    fresh: bool = False
    planned: bool = False

    @property
    def passage(self) -> Passage:
        """The bars at hand."""
        return self.passages[self.index]

    @property
    def last(self) -> bool:
        """Whether no passage comes after this one."""
        return self.index == len(self.passages) - 1

    def moved(self, by: int) -> "TakeRequest":
        """At a later passage, or an earlier one; stays at the ends."""
        return replace(self, index=min(len(self.passages) - 1, max(0, self.index + by)))

    def whole_or_passages(self) -> "TakeRequest":
        """The whole tune as one passage, or back to its passages, at the beginning."""
        score = self.passage.score
        passages = passages_of(score) if self.passage.whole else (whole_tune(score),)
        return replace(self, passages=passages, index=0)

    def with_bars(self, by: int) -> "TakeRequest":
        """The same beginning with more bars or fewer, at least one, as a passage of its own."""
        passage = self.passage
        stop = min(len(passage.score.bars), max(passage.start + 1, passage.stop + by))
        shorter = replace(passage, stop=stop)
        if not shorter.notes:
            return self
        passages = (*self.passages[: self.index], shorter, *self.passages[self.index + 1 :])
        return replace(self, passages=passages)

    def in_stage(self, stage: Stage) -> "TakeRequest":
        """Another stage by the player's choice, same bars, at their own pace."""
        return replace(
            self, stage=stage, pulse=Pulse.FREE, tempo_bpm=None, one_a_click=False, settling=False, reason=()
        )

    def at_sight(self) -> "TakeRequest":
        """The whole tune at first sight, once through, at the player's own pace."""
        whole = whole_tune(self.passage.score)
        return replace(self.in_stage(Stage.SIGHT), passages=(whole,), index=0)

    def next_stage(self) -> "TakeRequest":
        """The stage after this one, then letters again."""
        if self.stage not in _STAGES:
            return self.in_stage(Stage.PLACES)
        return self.in_stage(_STAGES[(_STAGES.index(self.stage) + 1) % len(_STAGES)])

    def by_the_click(self) -> "TakeRequest":
        """One written note a click, rhythm ignored: the bridge from `places` to time. Once more leads back."""
        if self.one_a_click:
            return self.in_stage(Stage.PLACES)
        bpm = self.tempo_bpm or NUMBERS.lowest_bpm
        return replace(self.in_stage(Stage.PLACES), pulse=Pulse.METRONOME, tempo_bpm=bpm, one_a_click=True)

    def told(self, decision: "Decision") -> "TakeRequest":
        """As the coach says."""
        return replace(
            self,
            stage=decision.stage,
            pulse=decision.pulse,
            tempo_bpm=decision.tempo_bpm,
            settling=decision.settling,
            one_a_click=False,
            reason=decision.reason,
        )


_STAGES = (Stage.LETTERS, Stage.PLACES, Stage.RHYTHM, Stage.TIME)


def request_for(score: Score, neck_map: NeckMap) -> TakeRequest:
    """A tune put on the desk at its first passage, read at the octave of the player's map."""
    score = at_reading(score, neck_map.reading)
    return TakeRequest(score=score, neck_map=neck_map, passages=passages_of(written_out(score)))


@dataclass(frozen=True, slots=True)
class ToShelf:
    """The shelf of tunes."""


@dataclass(frozen=True, slots=True)
class ToPage:
    """The page of a tune from the first note: as the coach says, or in the stage `chosen` by the player."""

    tune: TakeRequest
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class ToResult:
    """What became of a take."""

    tune: TakeRequest
    finished: "Finished"
    decision: "Decision | None" = None


@dataclass(frozen=True, slots=True)
class ToFreshLine:
    """A line never seen before, at the level that is set."""


@dataclass(frozen=True, slots=True)
class ToSibling:
    """A sibling of the passage at hand: the same notes to practise, and nothing that is known by heart."""

    tune: TakeRequest


@dataclass(frozen=True, slots=True)
class ToAccount:
    """What was made of an imported tune."""

    entry: "ShelfEntry"
    score: Score


@dataclass(frozen=True, slots=True)
class ToToday:
    """The plan of today."""


@dataclass(frozen=True, slots=True)
class ToPlacing:
    """The next page of the short test; None begins it. `asked` are the single notes so far, as sounding pitches."""

    test: "PlacingTest | None" = None
    asked: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class ToAssignment:
    """An assignment, by its file."""

    path: Path


@dataclass(frozen=True, slots=True)
class ToAssigned:
    """A part of an assignment; `folder` is where its files lie."""

    folder: Path
    part: "AssignedTune | AssignedLines"


@dataclass(frozen=True, slots=True)
class ToProgress:
    """What the practice came to."""


@dataclass(frozen=True, slots=True)
class ToBook:
    """The passages with their marks."""


@dataclass(frozen=True, slots=True)
class ToPlanned:
    """The step of the plan that stands next; `after` a take of it, the next music of the step or the plan."""

    after: "ToResult | None" = None


@dataclass(frozen=True, slots=True)
class ToMarking:
    """A take in rhythm that nothing listened to, to be marked by its player."""

    tune: TakeRequest


@dataclass(frozen=True, slots=True)
class ToMap:
    """The map, to look at and to change."""


@dataclass(frozen=True, slots=True)
class ToPlayers:
    """Who plays on this computer."""


@dataclass(frozen=True, slots=True)
class ToSettings:
    """What the player can settle."""


@dataclass(frozen=True, slots=True)
class ToInstruments:
    """The instruments that are plugged in."""


@dataclass(frozen=True, slots=True)
class ToSetUp:
    """A device, to be set up by playing."""

    device: str


@dataclass(frozen=True, slots=True)
class ToDelay:
    """A device whose delay is to be measured."""

    device: str


@dataclass(frozen=True, slots=True)
class Leave:
    """Out of the game."""


Destination = (
    ToShelf
    | ToPage
    | ToFreshLine
    | ToResult
    | ToMarking
    | ToMap
    | ToSettings
    | ToPlayers
    | ToSibling
    | ToAccount
    | ToToday
    | ToPlanned
    | ToProgress
    | ToBook
    | ToAssignment
    | ToAssigned
    | ToPlacing
    | ToInstruments
    | ToSetUp
    | ToDelay
    | Leave
)
