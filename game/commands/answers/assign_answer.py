"""The answer of `homefret assign`."""

from typing import Annotated

from msgspec import Meta

from game.coach.stages import Stage
from game.commands.answers.kinds import Answer, Day, Frets, LineLevel, Ordinal, Words
from game.music.score import Reading

Tempo = Annotated[int, Meta(ge=1, le=400, description="beats a minute")]


class MapOfAnAssignment(Answer, frozen=True, kw_only=True):
    """The map that is set."""

    position: Ordinal
    tuning: str
    frets: Frets
    read: Reading


class TuneOfAnAssignment(Answer, frozen=True, kw_only=True):
    """A tune, by its title on the shelf or by a file beside the assignment; one of the two is empty."""

    title: str
    file: str
    bars: Annotated[list[int], Meta(min_length=2, max_length=2)] | None
    stages: list[Stage]
    tempo: Tempo | None


class LinesOfAnAssignment(Answer, frozen=True, kw_only=True):
    """Fresh lines, so many a day."""

    level: LineLevel
    a_day: Ordinal
    stages: list[Stage]
    tempo: Tempo | None


class AssignAnswer(Answer, frozen=True, kw_only=True):
    """An assignment, and where it was written (null where it was shown)."""

    file: str | None
    title: Words
    note: str
    due: Day | None
    map: MapOfAnAssignment | None
    tunes: list[TuneOfAnAssignment]
    lines: list[LinesOfAnAssignment]
    warnings: list[Words]
