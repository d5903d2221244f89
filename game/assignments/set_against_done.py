"""What was set against what was done: how far each part of an assignment is, stage by stage. Pure.

For the player's own sheet and for the teacher's page alike. What comes in are plain records: the assignment, the music
that its parts were laid on the desk as, and the takes of that music with the map each was played on. All comes from the
log, so that every computer of the player's, and the teacher's, says the same.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple, Self

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment
from game.coach.events import TakeResult
from game.coach.heard_enough import is_heard_enough
from game.coach.mark_rules import is_found, is_in_time
from game.coach.notes.fluent_map import is_same_to_read
from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.coach.tempo.clean_takes import is_clean, is_right_enough

DAYS_OF_WEEK: Final = 7
DAYS_WANTED: Final = 5
"""Lines that are set for every day are done on five days of seven, to the next whole day: nobody plays every day, and a
day that was missed is made up by a later one (trade: teachers ask for five).
"""

TakeOnMap = tuple[str, TakeResult]
"""A take, with the text of the map it was played on (`game.coach.notes.map_identity.map_key`)."""

Part = AssignedTune | AssignedLines


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMusic:
    """Music that a part was laid on the desk as, by keys of passages: its `pages`, in order, and the `whole` of it.
    `part` counts from 0, tunes first; `neck_map` is the text of the map it was laid down for.
    """

    part: int
    pages: tuple[str, ...]
    whole: str
    neck_map: str

    @property
    def keys(self) -> frozenset[str]:
        """All of them."""
        return frozenset((*self.pages, self.whole))


@dataclass(frozen=True, slots=True, kw_only=True)
class StageOfPart:
    """A stage that is asked of a part; `stage` is None where the coach chooses. `day` is when it was done, None before;
    of its `pages`, those that are done were done on `page_days`, the earliest first, and `page_left` is the first that
    is not, counted from 0; 0 where none is left.
    """

    stage: Stage | None
    day: int | None = None
    page_days: tuple[int, ...] = ()
    pages: int = 0
    page_left: int = 0

    @property
    def done(self) -> bool:
        """Whether it is."""
        return self.day is not None

    @property
    def pages_done(self) -> int:
        """How many of its pages are."""
        return len(self.page_days)


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneOfPart:
    """How far a part is. Of lines `today` counts those that were read today, `full_days` are the days on which all that
    is set for a day was read, the earliest first, of the `days_wanted`, of which by today `days_so_far` are; of a tune
    there are none.
    """

    part: Part
    stages: tuple[StageOfPart, ...]
    done: bool
    today: int = 0
    full_days: tuple[int, ...] = ()
    days_wanted: int = 0
    days_so_far: int = 0

    @property
    def days(self) -> int:
        """On how many days all was read that is set for one."""
        return len(self.full_days)

    @property
    def day(self) -> int | None:
        """When it was done, None before."""
        if not self.done:
            return None
        if isinstance(self.part, AssignedLines):
            return self.full_days[self.days_wanted - 1]
        return max(one.day or 0 for one in self.stages)

    @property
    def done_today(self) -> bool:
        """Whether nothing of it is left for today."""
        return self.done or (isinstance(self.part, AssignedLines) and self.today >= self.part.a_day)

    @property
    def next_up(self) -> StageOfPart:
        """The first stage that is left; the last one where none is."""
        return next((one for one in self.stages if not one.done), self.stages[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAgainstDone:
    """How far an assignment is on the day `today`, counted from the first of January of year 1."""

    parts: tuple[DoneOfPart, ...]
    due: int | None
    today: int

    @property
    def left(self) -> int:
        """How many parts are not done."""
        return sum(not part.done for part in self.parts)

    @property
    def done(self) -> bool:
        """Whether all of it is."""
        return self.left == 0

    @property
    def overdue(self) -> bool:
        """Whether something is undone past its day."""
        return not self.done and self.due is not None and self.today > self.due

    @property
    def done_today(self) -> bool:
        """Whether nothing is left for today: parts that are done, and lines of which today's were read."""
        return all(part.done_today for part in self.parts)


def parts_of(assignment: Assignment) -> tuple[Part, ...]:
    """All that was set, tunes first."""
    return (*assignment.tunes, *assignment.lines)


def set_against_done(
    assignment: Assignment, music: Iterable[PartMusic], takes: Sequence[TakeOnMap], *, opened: int, today: int
) -> SetAgainstDone:
    """How far it is, by the takes since it was `opened` (days counted from the first of January of year 1). A stage is
    done by one take that meets its rule, of the whole or of each page of what was set: whether it was begun from the
    assignment does not matter. Where a map was set, takes on another one do not count.
    """
    of_part: dict[int, list[PartMusic]] = {}
    for one in music:
        of_part.setdefault(one.part, []).append(one)
    due = assignment.due.toordinal() if assignment.due else None
    by_passage: dict[str, list[TakeOnMap]] = {}
    for neck_map, result in takes:
        if opened <= result.day <= today:
            by_passage.setdefault(result.passage.name, []).append((neck_map, result))
    on_any_map = assignment.neck_map is None
    done = tuple(
        _lines(
            part, of_part.get(number, []), by_passage, _DaysWanted.of(opened, due, today), today, on_any_map=on_any_map
        )
        if isinstance(part, AssignedLines)
        else _tune(part, of_part.get(number, []), by_passage, on_any_map=on_any_map)
        for number, part in enumerate(parts_of(assignment))
    )
    return SetAgainstDone(parts=done, due=due, today=today)


def meets(stage: Stage | None, result: TakeResult, target_bpm: int | None = None) -> bool:
    """Whether a take does what a stage asks for: names right (`letters`), every note at its home (`places`), a clean
    rhythm, a clean take with the click without a stop, at the tempo that was set or faster (`time`), once through
    (`sight`). None is what the coach leads to: the same as `time`.
    """
    if not is_heard_enough(result) or not result.homes:
        return False
    whole = not result.unread
    match stage:
        case Stage.LETTERS:
            return result.stage is stage and whole and is_right_enough(result)
        case Stage.PLACES:
            return is_found(result)
        case Stage.RHYTHM:
            return result.stage is stage and whole and is_clean(result)
        case Stage.SIGHT:
            return result.stage is stage and whole
        case _:
            return result.stage is Stage.TIME and is_in_time(result) and _fast_enough(result, target_bpm)


def _fast_enough(result: TakeResult, target_bpm: int | None) -> bool:
    """Whether it was at the tempo that was set; one that no metronome goes at is met by the nearest it does."""
    wanted = min(max(target_bpm or 0, NUMBERS.lowest_bpm), NUMBERS.highest_bpm)
    return (result.tempo_bpm or 0) >= wanted


class _DaysWanted(NamedTuple):
    """On how many days lines are wanted that are set for each day: in all, and up to today."""

    in_all: int
    so_far: int

    @classmethod
    def of(cls, opened: int, due: int | None, today: int) -> Self:
        """By the day it was opened, the day it is due and today."""
        in_all = _of_days(1 if due is None else due - opened + 1)
        return cls(in_all, min(in_all, _of_days(today - opened + 1)))


def _of_days(days: int) -> int:
    return -(-max(1, days) * DAYS_WANTED // DAYS_OF_WEEK)


def _stages(part: Part) -> tuple[Stage | None, ...]:
    return part.stages or (None,)


def _tune(
    part: AssignedTune, music: Sequence[PartMusic], takes: Mapping[str, list[TakeOnMap]], *, on_any_map: bool
) -> DoneOfPart:
    stages = tuple(_best(stage, part, music, takes, on_any_map=on_any_map) for stage in _stages(part))
    return DoneOfPart(part=part, stages=stages, done=all(one.done for one in stages))


def _best(
    stage: Stage | None,
    part: Part,
    music: Sequence[PartMusic],
    takes: Mapping[str, list[TakeOnMap]],
    *,
    on_any_map: bool,
) -> StageOfPart:
    """How far a stage is, of whichever music the part was laid on the desk as: read at another octave it is another."""
    found = [_stage(stage, part, one, takes, on_any_map=on_any_map) for one in music]
    done = [one for one in found if one.done]
    if done:
        return min(done, key=lambda one: one.day or 0)
    return max(found, key=lambda one: one.pages_done, default=StageOfPart(stage=stage))


def _stage(
    stage: Stage | None, part: Part, music: PartMusic, takes: Mapping[str, list[TakeOnMap]], *, on_any_map: bool
) -> StageOfPart:
    def first_day(key: str) -> int | None:
        days = (
            result.day
            for neck_map, result in takes.get(key, ())
            if (on_any_map or is_same_to_read(neck_map, music.neck_map)) and meets(stage, result, part.target_bpm)
        )
        return min(days, default=None)

    of_pages = [first_day(key) for key in music.pages]
    found = [day for day in of_pages if day is not None]
    whole = first_day(music.whole)
    each = [max(found)] if found and len(found) == len(of_pages) else []
    day = min((*each, *(() if whole is None else (whole,))), default=None)
    left = next((number for number, one in enumerate(of_pages) if one is None), 0) if day is None else 0
    return StageOfPart(stage=stage, day=day, page_days=tuple(sorted(found)), pages=len(of_pages), page_left=left)


def _lines(
    part: AssignedLines,
    music: Sequence[PartMusic],
    takes: Mapping[str, list[TakeOnMap]],
    days: _DaysWanted,
    today: int,
    *,
    on_any_map: bool,
) -> DoneOfPart:
    """Each line counts on the day on which the last of its stages was done."""
    of_day: dict[int, set[str]] = {}
    under_way = tuple(StageOfPart(stage=stage) for stage in _stages(part))
    for one in music:
        stages = tuple(_stage(stage, part, one, takes, on_any_map=on_any_map) for stage in _stages(part))
        if all(stage.done for stage in stages):
            of_day.setdefault(max(stage.day or 0 for stage in stages), set()).add(one.whole)
            under_way = tuple(StageOfPart(stage=stage) for stage in _stages(part))
        else:
            under_way = stages
    full_days = tuple(sorted(day for day, read in of_day.items() if len(read) >= part.a_day))
    return DoneOfPart(
        part=part,
        stages=under_way,
        done=len(full_days) >= days.in_all,
        today=len(of_day.get(today, ())),
        full_days=full_days,
        days_wanted=days.in_all,
        days_so_far=days.so_far,
    )
