"""What a student needs of their teacher this week, the first that holds. Pure."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from math import sqrt
from statistics import fmean

from game.coach.marks import Mark
from game.coach.stages import Stage

WEEK_DAYS = 7
"""It ends with today."""

STUCK_TAKES, STUCK_DAYS, STUCK_GAIN = 10, 3, 0.05
"""So many takes, on so many days or more, without a mark and without so much of a gain, mean that somebody is stuck."""

_SURELY_Z = 1.645
"""One-sided 95 % of the normal distribution (standard table)."""

_FURTHER = (Stage.LETTERS.value, Stage.PLACES.value, Stage.RHYTHM.value, Stage.TIME.value)


class Need(Enum):
    """Why a student is to be looked at, the most urgent first."""

    ABSENT = "absent"
    OVERDUE = "overdue"
    STUCK = "stuck"
    FINE = "fine"


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageTake:
    """A take of a passage. `notes` were asked, `clean` of them right, `in_time` of these in time; `tempo_bpm` is None
    without a click. `is_clean` says whether it was a clean take against it.
    """

    day: date
    stage: str
    tempo_bpm: float | None
    notes: int
    clean: int
    in_time: int
    is_clean: bool = False

    @property
    def right(self) -> int:
        """The notes that were all they should be: against the click in time, too."""
        return (
            self.clean if self.tempo_bpm is None or self.stage == Stage.RHYTHM.value else min(self.clean, self.in_time)
        )

    @property
    def asks(self) -> tuple[int, bool]:
        """How far the stage is that was played; only takes of the same one can be compared."""
        return (_FURTHER.index(self.stage) if self.stage in _FURTHER else -1, self.tempo_bpm is not None)


def need_of(last_day: date | None, today: date, *, overdue: bool, stuck: bool) -> Need:
    """The first that holds. `last_day` is the last day with a take up to today, None where there is none."""
    if last_day is None or last_day <= today - timedelta(days=WEEK_DAYS):
        return Need.ABSENT
    if overdue:
        return Need.OVERDUE
    return Need.STUCK if stuck else Need.FINE


def is_overdue(due: date | None, done: date | None, today: date) -> bool:
    """Whether a part that was set is undone past its day."""
    return due is not None and today > due and (done is None or done > today)


def is_stuck(takes: Sequence[PassageTake], marks: Iterable[tuple[str, date]], clean_before: float | None) -> bool:
    """Whether a passage does not get on: its last takes, oldest first, lie on three days or more, none of them earned a
    mark, and they brought no gain. `clean_before` is the tempo of the fastest clean take before these. What is signed
    off is done.
    """
    last = takes[-STUCK_TAKES:]
    if len(last) < STUCK_TAKES or len({take.day for take in last}) < STUCK_DAYS:
        return False
    if any(mark == Mark.SIGNED_OFF.value or day >= last[0].day for mark, day in marks):
        return False
    fastest = max((take.tempo_bpm or 0.0 for take in last if take.is_clean), default=0.0)
    if fastest and fastest >= (1 + STUCK_GAIN) * (clean_before or 0.0):
        return False
    return not _is_gain(last[: STUCK_TAKES // 2], last[STUCK_TAKES // 2 :])


def _is_gain(before: Sequence[PassageTake], after: Sequence[PassageTake]) -> bool:
    """Whether a further stage was begun, or, at the same tempo or a faster one, 5 % more of the notes were right than
    before, and so many more that chance alone is no likely reason: few notes tell little.
    """
    if max(take.asks for take in after) > max(take.asks for take in before):
        return True
    alike = {take.asks for take in before} & {take.asks for take in after}
    if not alike:
        return False
    then, now = ([take for take in half if take.asks == max(alike)] for half in (before, after))
    return _mean_bpm(now) >= _mean_bpm(then) and _more_right(then, now)


def _mean_bpm(takes: Sequence[PassageTake]) -> float:
    return fmean(take.tempo_bpm or 0.0 for take in takes)


def _more_right(then: Sequence[PassageTake], now: Sequence[PassageTake]) -> bool:
    """By the normal approximation of the difference of two shares, one-sided (textbooks of statistics, from memory)."""
    (right_then, asked_then), (right_now, asked_now) = (
        (sum(take.right for take in half), sum(take.notes for take in half)) for half in (then, now)
    )
    if not asked_then or not asked_now:
        return bool(right_now)
    share_then, share_now = right_then / asked_then, right_now / asked_now
    share = (right_then + right_now) / (asked_then + asked_now)
    spread = sqrt(share * (1 - share) * (1 / asked_then + 1 / asked_now))
    return share_now >= (1 + STUCK_GAIN) * share_then and share_now - share_then > _SURELY_Z * spread
