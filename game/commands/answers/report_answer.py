"""The answer of `homefret report`."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from game.coach.marks import Mark
from game.commands.answers.kinds import Answer, BarNumbers, Count, Day, Days, Interval, Ordinal, Share, Words
from game.practice_log.classes.need import Need

Minutes = Annotated[float, Meta(ge=0)]
MarkWord = Annotated[str, Meta(extra_json_schema={"enum": [mark.value for mark in Mark]})]
NeedWord = Annotated[str, Meta(extra_json_schema={"enum": [need.value for need in Need]})]
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


class ReportedWeek(Answer, frozen=True, kw_only=True):
    """The week that ends with the day of the report, and the minutes of the week before it."""

    days: Count
    minutes: Minutes
    takes: Count
    before_minutes: Minutes


class ReportedPart(Answer, frozen=True, kw_only=True):
    """A stage of a part that was set, in the assignment called `assignment`: when it is due, when the student opened it
    and when it was done, null for never. `stage` is empty where the coach chooses; a tune has a `title`, fresh lines a
    `level`, and `tempo` is the target that was set.
    """

    assignment: str
    part: Count
    stage: str
    title: str
    bars: list[int] | None
    level: Ordinal | None
    tempo: int | None
    due: Day | None
    opened: Day | None
    done: Day | None
    overdue: bool
    withdrawn: bool


class ReportedStudent(Answer, frozen=True, kw_only=True):
    """One player's figures. `files` are the page and its tables; `warning` is one sentence or null. Of a class there is
    more: the student's `id`; what they `need` of their teacher and why, what to do in the lesson, and a line that sets
    what comes next, empty for none; the `week` that ends with the day of the report; and what was set.
    """

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
    id: str | UnsetType = UNSET
    need: NeedWord | UnsetType = UNSET
    why: list[Words] | UnsetType = UNSET
    in_the_lesson: str | UnsetType = UNSET
    set_next: str | UnsetType = UNSET
    caution: str | UnsetType = UNSET
    week: ReportedWeek | UnsetType = UNSET
    parts: list[ReportedPart] | UnsetType = UNSET


class NeverPractised(Answer, frozen=True, kw_only=True):
    """Somebody of a class without a take that was judged, who has no page: as far as they are known."""

    id: str
    name: str
    need: NeedWord
    parts: list[ReportedPart]


class ReportAnswer(Answer, frozen=True, kw_only=True):
    """The page that was written, the figures of each player on it, and what could not be read; `marks` is the file of
    marks, where one was asked for. Of a class there are the day with which the week ends, and who has never practised.
    """

    file: str
    students: list[ReportedStudent]
    faults: list[Words]
    marks: str | None = None
    today: Day | UnsetType = UNSET
    never_practised: list[NeverPractised] | UnsetType = UNSET
