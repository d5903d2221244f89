"""Where a screen may lead. Screens name the place; the app builds what stands there."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from game.coach.stages import Stage
from game.music.passage import Passage, passages_of, whole_tune
from game.music.score import Score
from game.music.written import written_out
from game.neck.map import NeckMap

if TYPE_CHECKING:
    from game.practice.finished import Finished


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenTune:
    """A tune on the desk: its passages, which of them is at hand, and what is asked."""

    score: Score
    neck_map: NeckMap
    passages: tuple[Passage, ...]
    index: int = 0
    stage: Stage = Stage.PLACES

    @property
    def passage(self) -> Passage:
        """The bars at hand."""
        return self.passages[self.index]

    @property
    def last(self) -> bool:
        """Whether no passage comes after this one."""
        return self.index == len(self.passages) - 1

    def moved(self, by: int) -> "OpenTune":
        """At a later passage, or an earlier one; stays at the ends."""
        return replace(self, index=min(len(self.passages) - 1, max(0, self.index + by)))

    def whole_or_passages(self) -> "OpenTune":
        """The whole tune as one passage, or back to its passages, at the beginning."""
        score = self.passage.score
        passages = passages_of(score) if self.passage.whole else (whole_tune(score),)
        return replace(self, passages=passages, index=0)

    def other_stage(self) -> "OpenTune":
        """The other stage, same bars."""
        stage = Stage.LETTERS if self.stage is Stage.PLACES else Stage.PLACES
        return replace(self, stage=stage)


def open_tune(score: Score, neck_map: NeckMap) -> OpenTune:
    """A tune put on the desk at its first passage."""
    return OpenTune(score=score, neck_map=neck_map, passages=passages_of(written_out(score)))


@dataclass(frozen=True, slots=True)
class ToShelf:
    """The shelf of tunes."""


@dataclass(frozen=True, slots=True)
class ToPage:
    """The page of a tune, in its stage, from the first note."""

    tune: OpenTune


@dataclass(frozen=True, slots=True)
class ToResult:
    """What became of a take."""

    tune: OpenTune
    finished: "Finished"


@dataclass(frozen=True, slots=True)
class ToMap:
    """The map, to look at and to change."""


@dataclass(frozen=True, slots=True)
class ToSettings:
    """What the player can settle."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Out of the game."""


Destination = ToShelf | ToPage | ToResult | ToMap | ToSettings | Leave
