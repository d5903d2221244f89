"""An assignment: what a teacher wants practised until when. Pure values, already checked by whoever made them."""

from dataclasses import dataclass
from datetime import date

from game.coach.stages import Stage
from game.errors import HomefretError
from game.neck.neck_map import NeckMap

LOWEST_BPM, HIGHEST_BPM = 1, 400
"""The bounds of a target tempo, those of the settings."""

LONGEST_NOTE = 600
"""Letters of what a teacher says to it: six lines on a sheet, a page of a phone. What is longer is cut."""

HIGHEST_LEVEL = 8
"""Levels of fresh lines are counted from 1 up to this one (`game.lines.levels`)."""


class AssignmentError(HomefretError):
    """An assignment that cannot be read. The message holds all its faults."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AssignedTune:
    """A tune, by its title on the shelf or as the name of a file beside the assignment: one of the two, the other
    empty. `bars` are the first and last as printed, None for the whole tune; `target_bpm` counts the metre's own beat,
    None for the player's own target.
    """

    title: str = ""
    file_name: str = ""
    bars: tuple[int, int] | None = None
    stages: tuple[Stage, ...] = ()
    target_bpm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AssignedLines:
    """Fresh lines of a level (1 to 8), so many a day."""

    level: int
    a_day: int = 1
    stages: tuple[Stage, ...] = ()
    target_bpm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment:
    """All that was set. No stages at a tune or line: those the coach chooses. `neck_map` None: the player's own."""

    title: str
    note: str = ""
    due: date | None = None
    neck_map: NeckMap | None = None
    tunes: tuple[AssignedTune, ...] = ()
    lines: tuple[AssignedLines, ...] = ()
