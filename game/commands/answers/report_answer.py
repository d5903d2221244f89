"""The answer of `homefret report`."""

from typing import Annotated, Literal

from msgspec import Meta

from game.coach.marks import Mark
from game.commands.answers.kinds import Answer, BarNumbers, Count, Day, Days, Interval, Ordinal, Share, Words

Minutes = Annotated[float, Meta(ge=0)]
MarkWord = Annotated[str, Meta(extra_json_schema={"enum": [mark.value for mark in Mark]})]
Positive = Annotated[float, Meta(gt=0)]


class FirstSight(Answer, frozen=True, kw_only=True):
    """The first-sight score of the last four weeks; `surely` is where it lies, at 95 %."""

    read: Count
    clean: Count
    share: Share | None
    surely: Interval | None


class SlowNote(Answer, frozen=True, kw_only=True):
    """A note that takes long or often goes wrong. `find_s` is its median time to find; `causes` count why it did."""

    written: str
    string: int
    fret: int
    read: int
    clean: int
    find_s: float | None
    causes: dict[str, int]


class PassageMark(Answer, frozen=True, kw_only=True):
    """A mark that was earned, and when."""

    mark: MarkWord
    day: Day


class ReportedPassage(Answer, frozen=True, kw_only=True):
    """A passage; tempi in the metre's own beat: the last one, the fastest clean one, the target. `read` is when its
    bars were right at their first or second sighting.
    """

    title: str
    bars: BarNumbers
    takes: Ordinal
    tempo: float | None
    clean_tempo: float | None
    target: float | None
    marks: list[PassageMark]
    read: Day | None = None


class ReportedOutlook(Answer, frozen=True, kw_only=True):
    """When a measure will reach its limit, and between which days that surely lies."""

    what: Literal["first sight", "time to find"]
    limit: Positive
    now: Positive
    day: Day
    surely: Days


class ReportedPage(Answer, frozen=True, kw_only=True):
    """A take whose page with pencil marks is shown."""

    day: Day
    number: Ordinal
    title: str
    bars: BarNumbers


class ReportedStudent(Answer, frozen=True, kw_only=True):
    """One player's figures. `files` are the page and its tables; `warning` is one sentence or null."""

    name: str
    files: Annotated[list[str], Meta(min_length=1)]
    days: Ordinal
    last_day: Day
    minutes: Minutes
    week_minutes: Minutes
    first_sight: FirstSight
    notes_a_second: float | None
    slow_notes: list[SlowNote]
    passages: list[ReportedPassage]
    warning: str | None
    outlook: list[ReportedOutlook]
    pages: list[ReportedPage]


class ReportAnswer(Answer, frozen=True, kw_only=True):
    """The page that was written, the figures of each player on it, and what could not be read; `marks` is the file of
    marks, where one was asked for.
    """

    file: str
    students: list[ReportedStudent]
    faults: list[Words]
    marks: str | None = None
